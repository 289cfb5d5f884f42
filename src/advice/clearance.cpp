#include "advice/clearance.h"

#include <algorithm>
#include <limits>

#include "advice/solid.h"

namespace dapple::advice {

using scene::Box;
using scene::Enclosure;
using scene::Face;
using scene::Vec3;

namespace {

// A millimetre or two is what furniture gives way by, and what rounding may add to a resting contact.
constexpr double give = 0.002;

// How high above an open top a lamp may hang; our judgement, about the length of a lamp stand's arm.
constexpr double above_top = 0.5;

template <class Thing>
const Thing& named(const std::vector<Thing>& things, const std::string& id) {
    return *std::find_if(things.begin(), things.end(), [&](const Thing& thing) { return thing.id == id; });
}

// How far a box sticks out of the enclosure.
double sticks_out(const Box& box, const Vec3& size) {
    const Vec3 low = -box.min;
    const Vec3 high = box.max - size;
    return std::max({0.0, low.maxCoeff(), high.maxCoeff()});
}

// Where lamps may hang: the box, and the air above it when the top is open.
Vec3 room_for_lamps(const Enclosure& enclosure) {
    const bool open = !enclosure.walls[static_cast<std::size_t>(Face::top)];
    return enclosure.size + (open ? above_top : 0.0) * Vec3::UnitZ();
}

// Do two solids reach further into each other than two others did before?
bool worse(const Solid& a, const Solid& b, const Solid& a_before, const Solid& b_before) {
    const double depth = penetration(a, b);
    return depth > give && depth > penetration(a_before, b_before) + give;
}

}  // namespace

Clearances::Clearances(Enclosure before, const FixOptions& options)
    : before_(std::move(before)), lamp_to_animal_(options.lamp_to_animal) {
    if (const auto animals = husbandry::resolve_animals(before_)) {
        for (const auto& animal : *animals) {
            stances_.push_back({animal.species.back_height, animal.species.climbs});
        }
    }
    nearest_before_ = nearest_reach(before_);
}

bool Clearances::allow(const Enclosure& after, const Change& change) const {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            return furniture_has_room(after, change.id) && spots_stay_free(after, change.id) &&
                   lamps_keep_their_distance(after, false);
        case Change::Kind::move_lamp:
            return lamp_has_room(after, change.id, true) && lamps_keep_their_distance(after, false);
        case Change::Kind::swap_lamps:
            return lamp_has_room(after, change.id, false) && lamp_has_room(after, change.other, false) &&
                   lamps_keep_their_distance(after, false);
        case Change::Kind::remove_screen:
            return lamps_keep_their_distance(after, true);
    }
    return false;
}

bool Clearances::furniture_has_room(const Enclosure& after, const std::string& id) const {
    const Solid moved = solid_of(named(after.furniture, id));
    const Solid original = solid_of(named(before_.furniture, id));
    if (sticks_out(bounds(moved), after.size) > sticks_out(bounds(original), after.size) + give) return false;
    for (const scene::Furniture& piece : after.furniture) {
        const Solid other = solid_of(piece);
        if (piece.id != id && worse(moved, other, original, other)) return false;
    }
    for (const scene::Screen& screen : after.screens) {
        const Solid other = solid_of(screen);
        if (worse(moved, other, original, other)) return false;
    }
    for (const scene::Lamp& lamp : after.lamps) {
        const Solid other = solid_of(lamp);
        if (worse(moved, other, original, other)) return false;
    }
    return true;
}

bool Clearances::lamp_has_room(const Enclosure& after, const std::string& id, bool carried_straight) const {
    const scene::Lamp& lamp = named(after.lamps, id);
    const scene::Lamp& lamp_before = named(before_.lamps, id);
    const Solid moved = solid_of(lamp);
    const Solid original = solid_of(lamp_before);
    const Vec3 room = room_for_lamps(after);
    if (!Box{Vec3::Zero(), room}.contains(lamp.centre, 1e-9)) return false;
    if (sticks_out(bounds(moved), room) > sticks_out(bounds(original), room) + give) return false;
    for (const scene::Furniture& piece : after.furniture) {
        const Solid other = solid_of(piece);
        if (worse(moved, other, original, other)) return false;
    }
    // A lamp that is carried straight to its place may not pass a screen: one below the lid stays below it.
    const Solid way = carried_straight ? swept(original, lamp.centre - lamp_before.centre) : moved;
    for (const scene::Screen& screen : after.screens) {
        const Solid other = solid_of(screen);
        if (worse(way, other, original, other)) return false;
    }
    for (const scene::Lamp& neighbour : after.lamps) {
        if (neighbour.id == id) continue;
        if (worse(moved, solid_of(neighbour), original, solid_of(named(before_.lamps, neighbour.id)))) {
            return false;
        }
    }
    return true;
}

// A moved piece may not bury a spot that stays where it is, nor lift one out of the box.
bool Clearances::spots_stay_free(const Enclosure& after, const std::string& furniture) const {
    const Solid moved = solid_of(named(after.furniture, furniture));
    const Solid original = solid_of(named(before_.furniture, furniture));
    const double back = stances_.empty() ? 0.0 : stances_.front().back_height;
    for (std::size_t i = 0; i < after.spots.size(); ++i) {
        const Vec3 lift = (after.spots[i].height.value_or(back) + give) * Vec3::UnitZ();
        const Vec3& feet = after.spots[i].position;
        const Vec3& feet_before = before_.spots[i].position;
        if (!Box{Vec3::Zero(), after.size}.contains(feet + lift, give)) return false;
        constexpr double thumb = 0.005;
        const Solid animal = segment(feet + give * Vec3::UnitZ(), feet + lift, thumb);
        const Solid animal_before = segment(feet_before + give * Vec3::UnitZ(), feet_before + lift, thumb);
        if (worse(animal, moved, animal_before, original)) return false;
    }
    return true;
}

bool Clearances::lamps_keep_their_distance(const Enclosure& after, bool guard_removed) const {
    const std::vector<double> nearest = nearest_reach(after);
    for (std::size_t i = 0; i < nearest.size(); ++i) {
        // Without a guard nothing else keeps the animal off: the full distance is asked for.
        const double asked = guard_removed ? lamp_to_animal_ : std::min(lamp_to_animal_, nearest_before_[i]);
        if (nearest[i] < asked - 1e-9) return false;
    }
    return true;
}

std::vector<double> Clearances::nearest_reach(const Enclosure& enclosure) const {
    std::vector<double> nearest(enclosure.lamps.size(), std::numeric_limits<double>::infinity());
    // A dense grid is not needed: between its points the distance differs by no more than half a spacing
    // squared over the clearance, about 1 cm here.
    constexpr husbandry::ReachOptions coarse = {0.05, 1500};
    const auto visit = [&](const Vec3& point) {
        for (std::size_t i = 0; i < nearest.size(); ++i) {
            nearest[i] = std::min(nearest[i], distance_to_surface(enclosure.lamps[i], point));
        }
    };
    for (const Stance& stance : stances_) {
        for (const Vec3& point :
             husbandry::reach_of(enclosure, stance.back_height, stance.climbs, coarse).points) {
            visit(point);
        }
        for (const scene::Place& spot : enclosure.spots) {
            visit(spot.position + spot.height.value_or(stance.back_height) * Vec3::UnitZ());
        }
    }
    return nearest;
}

}  // namespace dapple::advice
