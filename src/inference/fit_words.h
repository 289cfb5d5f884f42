// The fit in sentences: why a reading does not fit, what the readings cannot tell, and what is hard to believe.
#pragma once

#include <string>
#include <vector>

#include "inference/fit_model.h"

namespace dapple::inference {

// The likely cause that a reading is so far off: a unit, a lamp that was off, the height, something in the way.
std::string why_set_aside(const ResponseField& field, const std::vector<Unknown>& unknowns,
                          const Observation& seen, const Reading& reading, const Eigen::VectorXd& mean);

// Unknowns that no reading tells anything of, and pairs that can be traded against one another.
std::vector<std::string> what_cannot_be_told(const std::vector<Unknown>& unknowns,
                                             const Eigen::MatrixXd& covariance);

// Things of the document whose factor the readings want further from 1 than such a thing is likely to be.
std::vector<std::string> what_is_unlikely(const std::vector<Unknown>& unknowns, const Eigen::VectorXd& mean);

}  // namespace dapple::inference
