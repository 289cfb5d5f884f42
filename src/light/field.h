// The light field of an enclosure: what a receiver reads at a place, lamp by lamp.
//
//   listed points   exact to 1e-4 in direct light, spectral, by `at`
//   many points     one number a point, fast, by `values`; the error is stated in bench/README.md
//
// Light of different lamps adds: lamps do not shade one another, so that moving one changes that one's light only
// (docs/decisions/0003-lamps-do-not-shade-lamps.md).
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "light/facing.h"
#include "scene/enclosure.h"
#include "spectrum/quantity.h"

namespace dapple::light {

struct FieldOptions {
    int bounces = -1;  // diffuse reflections followed; -1: until less than 0.1 % is under way, 0: direct only
};

// What arrives at one listed point.
struct Arrival {
    scene::Vec3 point;
    Facing facing;
    scene::Vec3 normal;                       // the way the receiver looked; zero for `back`
    std::vector<spectrum::Spectrum> by_lamp;  // W/m2/nm, in the enclosure's order of lamps

    spectrum::Spectrum total() const;
    double measure(spectrum::Quantity quantity) const;
    double measure(spectrum::Quantity quantity, int lamp) const;
};

class Field {
  public:
    explicit Field(const scene::Enclosure& enclosure, const FieldOptions& options = {});
    ~Field();
    Field(Field&&) noexcept;
    Field& operator=(Field&&) noexcept;

    const scene::Enclosure& enclosure() const;

    // The field of the same room under other lamps (moved, changed, added, taken out): what surfaces see of one another
    // is kept, so that a dragged lamp costs its light and nothing else. The fine patches behind a tube stay where
    // that tube was first. Everything but the lamps must be the same.
    Field relit(const scene::Enclosure& with_other_lamps) const;

    // An aimed receiver turns for the highest UVI, or for the highest irradiance where there is no UV.
    Arrival at(const scene::Vec3& point, const Facing& facing = {}) const;

    // One quantity at many points, in their order; aimed turns for that quantity. Uses all cores.
    std::vector<double> values(std::span<const scene::Vec3> points, spectrum::Quantity quantity,
                               const Facing& facing = {}) const;

    // The same, lamp by lamp for the normals that `values` would choose: result[lamp][point].
    std::vector<std::vector<double>> values_by_lamp(std::span<const scene::Vec3> points,
                                                    spectrum::Quantity quantity,
                                                    const Facing& facing = {}) const;

  private:
    struct State;
    explicit Field(std::unique_ptr<State> state);
    std::vector<std::vector<double>> values_in_order(std::span<const scene::Vec3> points,
                                                     spectrum::Quantity quantity, const Facing& facing) const;
    std::unique_ptr<State> state_;
};

}  // namespace dapple::light
