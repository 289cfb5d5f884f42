// One change to an enclosure, as a person would carry it out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::advice {

struct Change {
    enum class Kind {
        move_furniture,  // raise, lower or slide it; spots that stand on it go with it
        move_lamp,
        tilt_lamp,   // `by`: towards which side, its length the angle in rad
        swap_lamps,  // each takes the other's place and aim
        dim_lamp,    // `factor` of its output
        remove_screen,
        replace_screen,  // by the woven `mesh`
        thin_foliage,    // `factor` of its leaf area density
        renew_lamp,      // an aged lamp by a new one of its model
        replace_lamp,    // by the model `other` of the library, at the same place
        add_lamp,        // the model `other`, its centre at `by`
        add_shade        // a slab of cork bark as a roof, its centre at `by`
    };
    Kind kind;
    std::string id;                        // the thing changed, or added
    std::string other;                     // the second lamp of a swap; a model of the lamp library
    scene::Vec3 by = scene::Vec3::Zero();  // m
    double factor = 1;
    scene::Mesh mesh = {0, 0};

    friend bool operator==(const Change& a, const Change& b) {
        return a.kind == b.kind && a.id == b.id && a.other == b.other && a.by == b.by &&
               a.factor == b.factor && a.mesh.pitch == b.mesh.pitch && a.mesh.wire == b.mesh.wire;
    }
};

// `move_furniture`, as documents name it; and whether the change leaves all but the lamps as it was.
std::string_view name(Change::Kind kind);
bool concerns_lamps_only(Change::Kind kind);

// The change carried out, whether or not there is room for it. Nothing where it names a thing that is not there, or
// cannot be done to it.
std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure, const Change& change);
std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure,
                                        const std::vector<Change>& changes);

// Does the spot stand on this furniture: does a short drop below its feet end there?
bool stands_on(const scene::Place& spot, const scene::Furniture& furniture);

// A mesh's share of open area, ((p - w) / p)^2.
double open_share(const scene::Mesh& mesh);

// The roof that `add_shade` adds at `centre`.
scene::Furniture shade_at(const scene::Vec3& centre, const std::string& id, const scene::Vec3& room);

}  // namespace dapple::advice
