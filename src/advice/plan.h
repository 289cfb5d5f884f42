// Planning: lamps and mounting for an empty enclosure, by the same search over the library of generic lamps.
//
// What is planned: a stone of some height at one end to bask on, a roof at the other to hide under, a UV lamp over the
// stone and, where it gives too little warmth for the animal and the animal basks, a heat lamp beside it. Assumed until
// the keeper knows better: walls of glass, a floor of soil, an open top that lamps may hang above. The result is a
// document like any other; `check` judges it the same.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "advice/fix.h"
#include "husbandry/species.h"

namespace dapple::advice {

struct PlanOptions {
    FixOptions fix = {};  // efforts, distances, judging
    std::size_t most = 4;
};

struct Plan {
    std::string words;
    double effort;   // minutes, to put it up
    double power_w;  // of all lamps
    std::vector<std::string> models;
    scene::Enclosure enclosure;
    husbandry::Judgement judgement;
    std::vector<std::string> wrong;  // what does not hold, in sentences; empty for a plan that is offered
};

struct Planning {
    husbandry::Species species;
    scene::Vec3 size;
    std::vector<Plan> plans;    // everything holds; the least work first, then the least power
    std::vector<Plan> nearest;  // where nothing suits: what comes nearest, at most one
    std::size_t glances = 0;
    std::size_t judged = 0;
};

// Fails where the species' UV zone is unknown.
Expected<Planning> plan_for(const husbandry::Species& species, const scene::Vec3& size,
                            const PlanOptions& options = {});

// The irradiance (W/m2, facing up) at which a basking surface of absorptance 0.8 settles at the middle of the animal's
// basking temperatures, losing 12 W/m2/K to the air by convection and radiation together: an estimate for choosing a
// lamp, from memory of handbook values (Incropera & DeWitt); a thermometer decides. 0 for an animal that does not bask.
double basking_irradiance(const husbandry::Species& species);

nlohmann::json to_json(const Planning& planning);

}  // namespace dapple::advice
