// Thermometer readings teach the thermal model: the assumptions of warmth/assumptions.h, each with its prior, are fitted
// to temperatures as the lamps' outputs are to a meter's.
//
// A reading is normal about the model's temperature at its place, with
//     variance = thermometer^2 / repeats + (2 cm x the temperature's own gradient)^2 + model_sd^2,
// or, once in twelve, spoiled: anything within 30 K. The posterior of this mixture is maximised by
// expectation-maximisation with Ceres solving each weighted least-squares problem, then taken as normal (Laplace), as in
// inference/fit.h. `model_sd` (warmth/warmth.h) stays in every prediction: readings teach the assumptions, not what the
// model leaves out.
//
// A temperature is that of the surface at its spot, as an infrared thermometer gives it; of the air where the meter's
// name says "air" or "probe" (readings of one meter at one place and time are one set); of the night where the note says
// "night".
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "inference/fit.h"
#include "inference/readings.h"
#include "light/field.h"
#include "warmth/warmth.h"

namespace dapple::inference {

struct WarmthFitOptions {
    warmth::WarmthOptions warmth = {};
    double thermometer_k = 1.0;  // of a single value; hand-held infrared thermometers state 1 to 2 K
    double placement = 0.02;     // m
    double spoiled = 1.0 / 12;
};

struct WarmthFactor {
    warmth::Assumption assumption;
    double value;       // the factor; of the room K to be added
    Interval interval;  // 90 %
};

struct WarmthFit {
    std::vector<WarmthFactor> factors;
    std::vector<SetAside> set_aside;
    std::vector<std::string> cannot_tell;  // in sentences
    std::size_t used = 0;                  // temperatures among the readings
    warmth::Belief belief;
    warmth::Report report;
};

// With no temperature among the readings it is the prior.
WarmthFit fit_warmth(const light::Field& field, const std::vector<Reading>& readings,
                     const WarmthFitOptions& options = {});

nlohmann::json to_json(const WarmthFit& fit);  // the report's, with factors, set_aside and cannot_tell
std::string to_text(const WarmthFit& fit);

}  // namespace dapple::inference
