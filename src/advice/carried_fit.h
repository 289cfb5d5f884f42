// What readings have taught of an enclosure, carried over to the enclosure as it will be after a change.
//
// A thing that stays, moved or not, keeps the posterior of its factor and its correlations with others; one that is new
// or of another make starts from its prior; one that is gone is left out (the marginal of a normal posterior).
#pragma once

#include <span>
#include <vector>

#include "advice/change.h"
#include "inference/fit.h"

namespace dapple::advice {

inference::Fit carried_over(const inference::Fit& fit, const scene::Enclosure& changed,
                            const std::vector<Change>& changes);

// By lamp and place, the light at the posterior median over what the document says.
std::vector<std::vector<double>> fitted_factor(const inference::Fit& fit,
                                               std::span<const scene::Vec3> points);

}  // namespace dapple::advice
