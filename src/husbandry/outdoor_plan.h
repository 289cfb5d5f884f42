// Sun and shadow over the day, seen from above: a level grid of an outdoor enclosure at the height of an animal's back, at
// every moment of a curve while the sun is up.
#pragma once

#include <optional>
#include <vector>

#include "husbandry/zone.h"
#include "scene/enclosure.h"
#include "sky/outdoors.h"

namespace dapple::husbandry {

struct PlanOptions {
    double height = 0.05;           // m above the floor
    std::optional<Band> band;       // whose share of the floor is wanted
    double spacing = 0.06;          // m, wanted between neighbours
    std::size_t most_points = 900;  // spacing widens rather than exceed this
};

struct OutdoorPlan {
    scene::Vec3 min, max;             // the outermost points
    std::size_t columns = 0;          // along x
    std::size_t rows = 0;             // along y
    std::vector<scene::Vec3> points;  // x fastest
    std::vector<double> free;         // 1 where no furniture fills the place, else 0
    std::optional<Band> band;

    // By time, then by point.
    std::vector<sky::Instant> times;
    std::vector<std::vector<double>> uvi;        // of an aimed meter
    std::vector<std::vector<double>> sun_share;  // of the sun's ultraviolet beam that gets there

    // By time, of the free places.
    std::vector<double> share_in_sun;   // where at least half of the beam arrives
    std::vector<double> share_in_band;  // empty without a band

    void add(sky::Instant time, std::vector<double> uvi_here, std::vector<double> sun_here);
};

// The grid, with no moment in it yet.
OutdoorPlan empty_plan(const scene::Enclosure& enclosure, const PlanOptions& options);

}  // namespace dapple::husbandry
