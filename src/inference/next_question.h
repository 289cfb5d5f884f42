// A question of the verdict, and what a reading elsewhere is worth to it.
#pragma once

#include <Eigen/Core>
#include <string>

namespace dapple::inference {

// The logarithm of some light, normal in the posterior, and limits on it. Without limits (low >= high) the question is
// how much light there is.
struct Question {
    std::string words;       // "whether Flat stone lies in the band 2.9-7.4"
    double mean;             // ln
    Eigen::VectorXd slopes;  // of ln light by the unknowns
    double low;              // ln; may be infinite
    double high;
};

// ln(read + floor) at a place: its slopes by the unknowns, and the variance of a reading about it.
struct Probe {
    Eigen::VectorXd slopes;
    double noise;  // variance
    double
        usable;  // the probability that the reading tells of that place and not of one across a shadow's edge
};

// The entropy of the answer, bits, for a normal logarithm with this mean and variance.
double entropy(const Question& question, double mean, double variance);

// The probability of yes as things are.
double probability(const Question& question, const Eigen::MatrixXd& covariance);

// The expected fall of the entropy by one reading, bits.
double gain(const Question& question, const Probe& probe, const Eigen::MatrixXd& covariance);

}  // namespace dapple::inference
