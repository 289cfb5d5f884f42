#include "inference/warmth_fit.h"

#include <ceres/ceres.h>
#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace dapple::inference {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using warmth::Assumption;
using warmth::Spot;
using warmth::Temperature;
using warmth::Warmth;

constexpr double z90 = 1.6448536269514722;  // 95 % quantile of the standard normal
constexpr double spoiled_within_k = 30;

bool says(std::string text, const std::string& word) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text.find(word) != std::string::npos;
}

struct Taken {
    std::size_t index;  // among the readings given
    double value;       // C
    double repeats;
    bool air;
    bool night;
    Spot spot;
    double sd = 0;  // K
};

std::vector<Taken> temperatures_of(const std::vector<Reading>& readings, const scene::Enclosure& enclosure) {
    std::vector<Taken> taken;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading& reading = readings[i];
        if (reading.quantity) continue;
        const bool air = says(reading.meter, "air") || says(reading.meter, "probe");
        Spot spot{reading.point};
        const auto place = std::find_if(enclosure.spots.begin(), enclosure.spots.end(),
                                        [&](const scene::Place& p) { return p.id == reading.spot; });
        // The surface lies at the spot itself, not at the back's height.
        if (place != enclosure.spots.end() && !air) spot.feet = place->position;
        taken.push_back({i, reading.value,
                         static_cast<double>(std::max<std::size_t>(1, reading.values.size())), air,
                         says(reading.note, "night"), spot});
    }
    return taken;
}

// The model at the readings' places.
class Model {
  public:
    Model(const light::Field& field, const std::vector<Taken>& taken, const warmth::WarmthOptions& options)
        : taken_(taken) {
        std::vector<Spot> spots;
        for (const Taken& t : taken) spots.push_back(t.spot);
        for (const bool night : {false, true}) {
            warmth::WarmthOptions at = options;
            at.night = night;
            models_.emplace_back(field, spots, at);
        }
        needs_night_ = std::any_of(taken.begin(), taken.end(), [](const Taken& t) { return t.night; });
    }

    const std::vector<Assumption>& assumptions() const { return models_[0].assumptions(); }

    VectorXd at(const VectorXd& unknowns) const {
        const auto assumptions = warmth::moved(models_[0].enclosure(), models_[0].assumptions(), unknowns);
        const auto day = models_[0].at_spots(assumptions);
        const auto night = needs_night_ ? models_[1].at_spots(assumptions) : day;
        VectorXd values(static_cast<Eigen::Index>(taken_.size()));
        for (std::size_t i = 0; i < taken_.size(); ++i) {
            const Temperature& t = taken_[i].night ? night[i] : day[i];
            values[static_cast<Eigen::Index>(i)] = taken_[i].air ? t.air_c : t.surface_c;
        }
        return values;
    }

    double room_c() const { return models_[0].state().balance.room_k - warmth::zero_c; }

  private:
    const std::vector<Taken>& taken_;
    std::vector<Warmth> models_;
    bool needs_night_ = false;
};

// All readings and priors as one vector of residuals; slopes by differences of a hundredth of each prior.
class Residuals : public ceres::CostFunction {
  public:
    Residuals(const Model& model, const std::vector<Taken>& taken, const std::vector<double>& weight)
        : model_(model), taken_(taken), weight_(weight) {
        const int n = static_cast<int>(model.assumptions().size());
        set_num_residuals(static_cast<int>(taken.size()) + n);
        mutable_parameter_block_sizes()->push_back(n);
    }

    bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
        const auto n = static_cast<Eigen::Index>(model_.assumptions().size());
        const auto m = static_cast<Eigen::Index>(taken_.size());
        const Eigen::Map<const VectorXd> unknowns(parameters[0], n);
        Eigen::Map<VectorXd> all(residuals, m + n);
        const VectorXd here = model_.at(unknowns);
        for (Eigen::Index i = 0; i < m; ++i) all[i] = scale(i) * (here[i] - taken_[at(i)].value);
        for (Eigen::Index u = 0; u < n; ++u) all[m + u] = unknowns[u] / sd(u);
        if (jacobians == nullptr || jacobians[0] == nullptr) return all.allFinite();
        using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
        Eigen::Map<RowMajor> slopes(jacobians[0], m + n, n);
        slopes.setZero();
        for (Eigen::Index u = 0; u < n; ++u) {
            const double step = 0.01 * sd(u);
            VectorXd moved = unknowns;
            moved[u] += step;
            const VectorXd there = model_.at(moved);
            for (Eigen::Index i = 0; i < m; ++i) slopes(i, u) = scale(i) * (there[i] - here[i]) / step;
            slopes(m + u, u) = 1 / sd(u);
        }
        return all.allFinite() && slopes.allFinite();
    }

  private:
    static std::size_t at(Eigen::Index i) { return static_cast<std::size_t>(i); }
    double scale(Eigen::Index i) const { return std::sqrt(weight_[at(i)]) / taken_[at(i)].sd; }
    double sd(Eigen::Index u) const { return model_.assumptions()[at(u)].sd; }

    const Model& model_;
    const std::vector<Taken>& taken_;
    const std::vector<double>& weight_;
};

// What a placement error does, and the rest of a reading's standard deviation.
void judge_readings(const light::Field& field, const Model& model, std::vector<Taken>& taken,
                    const std::vector<Reading>& readings, const WarmthFitOptions& options) {
    const auto n = static_cast<Eigen::Index>(model.assumptions().size());
    const VectorXd here = model.at(VectorXd::Zero(n));
    VectorXd placement = VectorXd::Zero(here.size());
    for (const int axis : {0, 1}) {
        for (const double side : {-1.0, 1.0}) {
            std::vector<Taken> beside = taken;
            for (Taken& t : beside) t.spot.feet[axis] += side * options.placement;
            const Model there(field, beside, options.warmth);
            placement += (there.at(VectorXd::Zero(n)) - here).cwiseAbs2() / 2;
        }
    }
    const double room_c = model.room_c();
    for (std::size_t i = 0; i < taken.size(); ++i) {
        const auto e = static_cast<Eigen::Index>(i);
        const double scatter = std::max(options.thermometer_k / std::sqrt(taken[i].repeats),
                                        readings[taken[i].index].scatter / std::sqrt(taken[i].repeats));
        const double unmodelled = warmth::model_sd(here[e] - room_c);
        taken[i].sd = std::sqrt(scatter * scatter + placement[e] + unmodelled * unmodelled);
    }
}

VectorXd solve(const Model& model, const std::vector<Taken>& taken, const std::vector<double>& weight,
               const VectorXd& start, MatrixXd& covariance) {
    VectorXd unknowns = start;
    auto residuals = std::make_unique<Residuals>(model, taken, weight);
    const Residuals& kept = *residuals;
    ceres::Problem problem;
    problem.AddResidualBlock(residuals.release(), nullptr, unknowns.data());
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.max_num_iterations = 50;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    if (!summary.IsSolutionUsable())
        throw std::runtime_error("the fit of the warmth failed: " + summary.message);
    const auto n = unknowns.size();
    const auto m = static_cast<Eigen::Index>(taken.size()) + n;
    VectorXd values(m);
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> slopes(m, n);
    const double* at[] = {unknowns.data()};
    double* into[] = {slopes.data()};
    kept.Evaluate(at, values.data(), into);
    covariance = (slopes.transpose() * slopes).ldlt().solve(MatrixXd::Identity(n, n));
    return unknowns;
}

// The probability of each reading to tell of its place.
std::vector<double> trust(const VectorXd& expected, const std::vector<Taken>& taken, double spoiled) {
    std::vector<double> weight;
    for (std::size_t i = 0; i < taken.size(); ++i) {
        const double off = (taken[i].value - expected[static_cast<Eigen::Index>(i)]) / taken[i].sd;
        const double good =
            (1 - spoiled) * std::exp(-off * off / 2) / (taken[i].sd * std::sqrt(2 * std::numbers::pi));
        weight.push_back(good / (good + spoiled / (2 * spoiled_within_k)));
    }
    return weight;
}

WarmthFactor factor_of(const Assumption& assumption, double mean, double sd) {
    if (assumption.value == &warmth::Assumptions::room_k) {
        return {assumption, mean, {mean - z90 * sd, mean + z90 * sd}};
    }
    return {assumption, std::exp(mean), {std::exp(mean - z90 * sd), std::exp(mean + z90 * sd)}};
}

std::string why(const Taken& taken, double expected) {
    const double fahrenheit = expected * 9 / 5 + 32;
    if (std::abs(taken.value - fahrenheit) < 2 * taken.sd * 9 / 5) {
        return fmt::format("{:.0f} where {:.0f} C is expected: it may be in degrees Fahrenheit.", taken.value,
                           expected);
    }
    return fmt::format(
        "{:.1f} C where {:.1f} C is expected: {}.", taken.value, expected,
        taken.value < expected
            ? "the lamp may not have been on for long, or the spot was shaded or cooled"
            : "shiny surfaces mislead infrared thermometers, and lamp light warms a bare probe");
}

}  // namespace

WarmthFit fit_warmth(const light::Field& field, const std::vector<Reading>& readings,
                     const WarmthFitOptions& options) {
    WarmthFit fit;
    std::vector<Taken> taken = temperatures_of(readings, field.enclosure());
    fit.used = taken.size();
    const std::vector<Assumption> assumptions = warmth::assumptions_of(field.enclosure());
    fit.belief = warmth::prior(assumptions);
    if (!taken.empty()) {
        const Model model(field, taken, options.warmth);
        judge_readings(field, model, taken, readings, options);
        std::vector<double> weight(taken.size(), 1.0);
        constexpr int rounds = 8;  // of expectation and maximisation; the weights settle in four or five
        for (int round = 0; round < rounds; ++round) {
            fit.belief.mean = solve(model, taken, weight, fit.belief.mean, fit.belief.covariance);
            const std::vector<double> next = trust(model.at(fit.belief.mean), taken, options.spoiled);
            double change = 0;
            for (std::size_t i = 0; i < next.size(); ++i)
                change = std::max(change, std::abs(next[i] - weight[i]));
            weight = next;
            if (change < 1e-3) break;
        }
        const VectorXd expected = model.at(fit.belief.mean);
        for (std::size_t i = 0; i < taken.size(); ++i) {
            if (weight[i] > 0.5) continue;
            fit.set_aside.push_back({in_words(readings[taken[i].index], field.enclosure()),
                                     why(taken[i], expected[static_cast<Eigen::Index>(i)]), taken[i].index});
        }
    }
    std::vector<std::string> untold;
    for (std::size_t u = 0; u < assumptions.size(); ++u) {
        const auto i = static_cast<Eigen::Index>(u);
        const double sd = std::sqrt(fit.belief.covariance(i, i));
        fit.factors.push_back(factor_of(assumptions[u], fit.belief.mean[i], sd));
        if (!taken.empty() && sd > 0.95 * assumptions[u].sd) untold.push_back(assumptions[u].words);
    }
    if (!untold.empty()) {
        fit.cannot_tell.push_back(
            fmt::format("These readings say next to nothing of {}.", fmt::join(untold, "; ")));
    }
    fit.report = warmth::report(field, fit.belief, options.warmth);
    return fit;
}

}  // namespace dapple::inference
