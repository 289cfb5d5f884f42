// An enclosure's day outdoors: what the sun and the sky bring to its spots and to everything an animal can reach.
#pragma once

#include <string>
#include <vector>

#include "husbandry/outdoor_plan.h"
#include "husbandry/verdict.h"
#include "sky/outdoors.h"

namespace dapple::husbandry {

struct OutdoorSpot {
    std::string id, name;
    scene::Role role = scene::Role::other;
    scene::Vec3 point;
    std::vector<double> uvi;  // aimed, by moment
    std::vector<double>
        sun_share;              // of the sun's ultraviolet beam that gets through: its shadow over the day
    std::vector<sky::Uv> flat;  // on a horizontal surface there, by moment: a flat back
    double d3_share = 0;        // of the open field's D3-effective light, at the day's best moment
    double uvi_share = 0;       // the same of the UVI, on a horizontal surface
};

struct OutdoorAnimal {
    std::string species;
    std::optional<Band> band;
    std::vector<double> share_in_band;  // of its reach, by moment; 0 while the sun is down
    std::vector<double> share_in_shade;
};

struct OutdoorDay {
    std::vector<sky::Instant> times;
    std::vector<OutdoorSpot>
        spots;  // of the document; where it has none, the middle of the floor at back height
    std::vector<OutdoorAnimal> animals;
    bool behind_panes = false;
    std::optional<OutdoorPlan> plan;
};

struct OutdoorOptions {
    double spacing = 0.06;  // m, between points of reach
    std::size_t most_points = 2000;
    double shade_uvi = 0.7;           // as JudgeOptions
    std::optional<PlanOptions> plan;  // where one is wanted
};

// At the moments of a curve; `bearing_deg` is that of the document, or what stands in for it.
OutdoorDay outdoor_day(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
                       const sky::OpenSky& sky, const std::vector<sky::Moment>& curve, double bearing_deg,
                       const OutdoorOptions& options = {});

}  // namespace dapple::husbandry
