// The verdict once there is a fit: the judgement of husbandry/verdict.h in the fitted light, with 90 % intervals at the
// spots and, for every part that can be judged, the share of fields drawn from the posterior in which it holds.
#pragma once

#include <cstdint>

#include "husbandry/verdict.h"
#include "inference/fit.h"

namespace dapple::inference {

struct FittedJudgeOptions {
    husbandry::JudgeOptions judge = {};
    std::size_t draws = 200;  // a probability of a half is then good to 0.035
    std::uint64_t seed = 1;   // the same readings give the same probabilities
};

// Fails where judge does.
Expected<husbandry::Judgement> judge_fitted(const Fit& fit, const FittedJudgeOptions& options = {});

}  // namespace dapple::inference
