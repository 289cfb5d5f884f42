// What readings have taught of an enclosure, carried over to the enclosure as it is after a change.
//
// The factor of a thing that stays, moved or not, is what it was: lamps, screens, leaves and meters are matched by kind
// and id and keep their posterior with all its correlations. A thing that is new, or of another make under its old id,
// begins from its prior; one that is gone is left out (the marginal of a normal posterior). No reading is fitted again,
// so this costs what a fit without readings costs. The result predicts (Fit::predict, predict_spots) and is judged
// (fit_judge.h) like any other fit, with intervals.
#pragma once

#include <string>
#include <vector>

#include "inference/fit.h"

namespace dapple::inference {

// `of_another_make`: ids of lamps, screens and foliage that were exchanged. `options` gives the priors of what is new and
// how the light is computed.
Fit carry(const Fit& fit, const scene::Enclosure& changed,
          const std::vector<std::string>& of_another_make = {}, const FitOptions& options = {});

}  // namespace dapple::inference
