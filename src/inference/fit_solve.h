// The mathematics of the fit alone: weighted least squares with priors inside a mixture with spoiled readings.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "inference/fit_model.h"

namespace dapple::inference {

struct Solution {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
    std::vector<double> weight;   // by observation: the probability that it tells of the light at its place
    std::vector<double> spoiled;  // by observation: the probability that it tells of nothing; the rest is the
                                  // probability that it was read across a shadow's edge
    double log_posterior;         // up to a constant
};

Solution solve(const ResponseField& field, const std::vector<Unknown>& unknowns,
               const std::vector<Observation>& observations, double spoiled);

}  // namespace dapple::inference
