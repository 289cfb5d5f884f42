#include "inference/fit.h"

#include <fmt/format.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "husbandry/verdict.h"
#include "inference/fit_solve.h"
#include "inference/fit_words.h"

namespace dapple::inference {

namespace {

constexpr double z90 = 1.6448536269514722;  // 95 % quantile of the standard normal

Interval about(double median, double sd) {
    return {median * std::exp(-z90 * sd), median * std::exp(z90 * sd)};
}

}  // namespace

Interval Prediction::interval() const {
    return about(value, sd);
}

Prediction Fit::predict(const Response& places, std::size_t place) const {
    Eigen::VectorXd slopes;
    const double value = response->value(places, place, mean.data(), {}, &slopes);
    if (!(value > 0)) return {0, 0};
    slopes /= value;
    return {value, std::sqrt(slopes.dot(covariance * slopes))};
}

std::vector<Eigen::VectorXd> Fit::draw(std::size_t count, std::mt19937_64& random) const {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(covariance);
    const Eigen::MatrixXd root =
        eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0).cwiseSqrt().asDiagonal();
    std::normal_distribution<double> normal;
    std::vector<Eigen::VectorXd> draws;
    for (std::size_t i = 0; i < count; ++i) {
        Eigen::VectorXd step(mean.size());
        for (double& x : step) x = normal(random);
        draws.emplace_back(mean + root * step);
    }
    return draws;
}

Fit fit(const scene::Enclosure& enclosure, const std::vector<Reading>& readings, const FitOptions& options) {
    Fit result;
    result.unknowns = list_unknowns(enclosure, readings, options);
    result.response = std::make_shared<ResponseField>(enclosure, result.unknowns, options.field);
    const std::vector<Observation> observations =
        observe(*result.response, result.unknowns, readings, options);
    Solution solution = solve(*result.response, result.unknowns, observations, options.spoiled);
    result.mean = std::move(solution.mean);
    result.covariance = std::move(solution.covariance);
    for (std::size_t u = 0; u < result.unknowns.size(); ++u) {
        const auto i = static_cast<Eigen::Index>(u);
        const double value = std::exp(result.mean[i]);
        result.factors.push_back(
            {result.unknowns[u], value, about(value, std::sqrt(result.covariance(i, i)))});
    }
    for (std::size_t i = 0; i < observations.size(); ++i) {
        if (solution.spoiled[i] < 0.5) continue;
        const Observation& seen = observations[i];
        const Reading& reading = readings[seen.index];
        result.set_aside.push_back(
            {in_words(reading, enclosure),
             why_set_aside(*result.response, result.unknowns, seen, reading, result.mean), seen.index});
    }
    if (!observations.empty() && 2 * result.set_aside.size() > observations.size()) {
        result.doubts.push_back(fmt::format(
            "{} of {} readings were set aside: either the document is not this enclosure, or the meter "
            "or its unit is not what the readings say.",
            result.set_aside.size(), observations.size()));
    }
    for (std::string& sentence : what_is_unlikely(result.unknowns, result.mean)) {
        result.doubts.push_back(std::move(sentence));
    }
    for (std::string& sentence : what_cannot_be_told(result.unknowns, result.covariance)) {
        result.cannot_tell.push_back(std::move(sentence));
    }
    for (const Reading& reading : readings) {
        if (!reading.quantity) {
            result.unused.push_back(in_words(reading, enclosure) +
                                    " is a temperature, which says nothing of the lamps' light.");
        }
    }
    return result;
}

std::vector<std::string> notes(const Fit& fit) {
    std::vector<std::string> all;
    for (const SetAside& reading : fit.set_aside) {
        all.push_back(fmt::format("The reading at {} was set aside. {}", reading.reading, reading.why));
    }
    all.insert(all.end(), fit.doubts.begin(), fit.doubts.end());
    all.insert(all.end(), fit.unused.begin(), fit.unused.end());
    return all;
}

Expected<std::vector<std::pair<std::string, Prediction>>> predict_spots(const Fit& fit) {
    const scene::Enclosure& enclosure = fit.response->enclosure();
    const auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    std::vector<std::pair<std::string, Prediction>> spots;
    for (const scene::Place& spot : enclosure.spots) {
        const scene::Vec3 point = husbandry::reading_point(spot, *animals);
        const Response there = fit.response->at(std::span(&point, 1), spectrum::Quantity::uvi, {}, true);
        spots.emplace_back(spot.id, fit.predict(there, 0));
    }
    return spots;
}

}  // namespace dapple::inference
