// Where to measure next: of all spots and places in reach, the reading that settles most of the verdict.
//
// A question of the verdict is whether the light at a place lies between two limits: each bask spot in its band, the
// brightest place in reach under the ceiling, the darkest at or below the retreat's UVI. In the posterior the
// logarithm of that light is normal; a reading elsewhere narrows it by the rule of linear Gaussian updates (Rasmussen &
// Williams 2006, Gaussian Processes for Machine Learning, equation A.6). The gain of a reading is the expected
// fall of the questions' entropies (Lindley 1956, Ann. Math. Stat. 27:986-1005), in bits, summed: 1 is a yes or no that
// was wide open and is settled. Gradient and `together` are not asked about: they follow from the same light.
// Where no animal has a band, the question is what each spot reads, and the gain how much narrower that becomes.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "inference/fit.h"

namespace dapple::inference {

struct NextReading {
    std::string spot;     // id; empty: a point
    std::string words;    // the spot's name or the point
    scene::Vec3 point;    // m, where the sensor is held
    std::string settles;  // in words
    double gain;          // bits
};

struct NextOptions {
    std::size_t most = 5;      // proposals, best first
    std::size_t places = 120;  // of the reach that are considered beside the spots
    double apart = 0.12;       // m between proposals
    FitOptions reading = {};   // how a reading errs
    husbandry::JudgeOptions judge = {};
};

// All that was weighed for it.
struct Outlook {
    double doubt;  // bits: the mean entropy of the verdict's questions
    std::size_t questions;
    std::vector<NextReading> places;  // the spots, then places in reach; one that tells nothing has no gain
};

// Both fail where a species is unknown, and where there is neither a spot nor an animal to ask about.
Expected<Outlook> outlook(const Fit& fit, const NextOptions& options = {});
Expected<std::vector<NextReading>> next_readings(const Fit& fit, const NextOptions& options = {});

nlohmann::json to_json(const std::vector<NextReading>& next);  // contract.md, `next --json`
std::string to_text(const std::vector<NextReading>& next);

}  // namespace dapple::inference
