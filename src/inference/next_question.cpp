#include "inference/next_question.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dapple::inference {

namespace {

double normal_below(double x) {
    return std::erfc(-x / std::numbers::sqrt2) / 2;
}

double probability_of_yes(const Question& question, double mean, double variance) {
    const double sd = std::sqrt(std::max(variance, 1e-12));
    return std::clamp(normal_below((question.high - mean) / sd) - normal_below((question.low - mean) / sd),
                      0.0, 1.0);
}

bool asks_how_much(const Question& question) {
    return !(question.low < question.high);
}

}  // namespace

double entropy(const Question& question, double mean, double variance) {
    if (asks_how_much(question)) return std::log2(std::max(variance, 1e-12)) / 2;
    const double yes = probability_of_yes(question, mean, variance);
    const auto part = [](double p) { return p > 0 ? -p * std::log2(p) : 0; };
    return part(yes) + part(1 - yes);
}

double probability(const Question& question, const Eigen::MatrixXd& covariance) {
    return probability_of_yes(question, question.mean, question.slopes.dot(covariance * question.slopes));
}

double gain(const Question& question, const Probe& probe, const Eigen::MatrixXd& covariance) {
    const Eigen::VectorXd spread = covariance * probe.slopes;
    const double now = question.slopes.dot(covariance * question.slopes);
    const double shared = question.slopes.dot(spread);
    const double told = shared * shared / (probe.slopes.dot(spread) + probe.noise);
    const double left = std::max(0.0, now - told);
    double expected = 0;
    double weights = 0;
    // The reading moves the mean by a normal step of variance `told`: a sum over +-4 sd, for which equal steps converge
    // faster than any power (Trefethen & Weideman 2014, SIAM Rev. 56:385-458).
    constexpr int steps = 20;
    for (int i = -steps; i <= steps; ++i) {
        const double z = 4.0 * i / steps;
        const double weight = std::exp(-z * z / 2);
        expected += weight * entropy(question, question.mean + z * std::sqrt(told), left);
        weights += weight;
    }
    return std::max(0.0, probe.usable * (entropy(question, question.mean, now) - expected / weights));
}

}  // namespace dapple::inference
