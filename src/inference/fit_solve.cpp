#include "inference/fit_solve.h"

#include <ceres/ceres.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <memory>
#include <numbers>
#include <stdexcept>

namespace dapple::inference {

namespace {

using Eigen::VectorXd;

// The density of ln(read / expected) of a spoiled reading: flat over a factor of twenty either way, four times in five
// too little. Our judgement.
double spoiled_density(double logarithm) {
    const double width = std::log(20.0);
    if (std::abs(logarithm) > 3 * width) return 1e-6;
    return (logarithm < 0 ? 0.8 : 0.2) / width;
}

// The spread of ln(read) beyond a shadow's edge, where it is half light. Our judgement.
constexpr double penumbra = 0.3;

double normal_density(double distance, double sd) {
    return std::exp(-distance * distance / (2 * sd * sd)) / (sd * std::sqrt(2 * std::numbers::pi));
}

// (ln(v + f) - ln(expected + f)) / sd x sqrt(weight), with the standard deviation held at its value for the last
// solution.
class Misfit : public ceres::CostFunction {
  public:
    Misfit(const ResponseField& field, const Observation& seen, double sd, double weight, int unknowns)
        : field_(field),
          seen_(seen),
          scale_(std::sqrt(weight) / sd),
          read_(std::log(seen.value + seen.floor)) {
        set_num_residuals(1);
        mutable_parameter_block_sizes()->push_back(unknowns);
    }

    bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
        const Eigen::Map<const VectorXd> unknowns(parameters[0], parameter_block_sizes()[0]);
        const bool wants_slopes = jacobians != nullptr && jacobians[0] != nullptr;
        VectorXd slopes;
        const Expectation expected = expect(field_, seen_, unknowns, wants_slopes ? &slopes : nullptr);
        residuals[0] = scale_ * (read_ - expected.logarithm);
        if (wants_slopes) Eigen::Map<VectorXd>(jacobians[0], unknowns.size()) = -scale_ * slopes;
        return std::isfinite(residuals[0]);
    }

  private:
    const ResponseField& field_;
    const Observation& seen_;
    double scale_;
    double read_;
};

class Priors : public ceres::CostFunction {
  public:
    explicit Priors(const std::vector<Unknown>& unknowns) : unknowns_(unknowns) {
        set_num_residuals(static_cast<int>(unknowns.size()));
        mutable_parameter_block_sizes()->push_back(static_cast<int>(unknowns.size()));
    }

    bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
        const std::size_t n = unknowns_.size();
        for (std::size_t i = 0; i < n; ++i) residuals[i] = parameters[0][i] / unknowns_[i].sd;
        if (jacobians != nullptr && jacobians[0] != nullptr) {
            for (std::size_t i = 0; i < n * n; ++i) jacobians[0][i] = 0;
            for (std::size_t i = 0; i < n; ++i) jacobians[0][i * n + i] = 1 / unknowns_[i].sd;
        }
        return true;
    }

  private:
    const std::vector<Unknown>& unknowns_;
};

class Mixture {
  public:
    Mixture(const ResponseField& field, const std::vector<Unknown>& unknowns,
            const std::vector<Observation>& observations, double spoiled)
        : field_(field), unknowns_(unknowns), observations_(observations), spoiled_(spoiled) {}

    // Expectation-maximisation from given weights, until they settle.
    Solution climb(std::vector<double> weight) const {
        Solution at;
        at.mean = VectorXd::Zero(static_cast<Eigen::Index>(unknowns_.size()));
        at.spoiled.assign(weight.size(), 0);
        at.weight = std::move(weight);
        constexpr int most_rounds = 40;
        for (int round = 0; round < most_rounds; ++round) {
            maximise(at);
            const std::vector<double> before = at.weight;
            weigh(at);
            double change = 0;
            for (std::size_t i = 0; i < before.size(); ++i) {
                change = std::max(change, std::abs(before[i] - at.weight[i]));
            }
            if (change < 1e-4) break;
        }
        return at;
    }

    void add_covariance(Solution& at) const {
        const auto n = static_cast<Eigen::Index>(unknowns_.size());
        Eigen::MatrixXd information = Eigen::MatrixXd::Zero(n, n);
        for (Eigen::Index i = 0; i < n; ++i) {
            information(i, i) = std::pow(unknowns_[static_cast<std::size_t>(i)].sd, -2);
        }
        for (std::size_t i = 0; i < observations_.size(); ++i) {
            VectorXd slopes;
            const Expectation expected = expect(field_, observations_[i], at.mean, &slopes);
            information += at.weight[i] / (expected.sd * expected.sd) * slopes * slopes.transpose();
        }
        at.covariance = information.llt().solve(Eigen::MatrixXd::Identity(n, n));
    }

  private:
    void maximise(Solution& at) const {
        if (unknowns_.empty()) return;
        const int n = static_cast<int>(unknowns_.size());
        ceres::Problem problem;
        double* block = at.mean.data();
        problem.AddParameterBlock(block, n);
        problem.AddResidualBlock(new Priors(unknowns_), nullptr, block);
        for (std::size_t i = 0; i < observations_.size(); ++i) {
            const double sd = expect(field_, observations_[i], at.mean).sd;
            problem.AddResidualBlock(new Misfit(field_, observations_[i], sd, at.weight[i], n), nullptr,
                                     block);
        }
        ceres::Solver::Options options;
        options.linear_solver_type = ceres::DENSE_QR;
        options.logging_type = ceres::SILENT;
        options.function_tolerance = 1e-10;
        options.parameter_tolerance = 1e-10;
        ceres::Solver::Summary summary;
        ceres::Solve(options, &problem, &summary);
        if (!summary.IsSolutionUsable())
            throw std::runtime_error("the fit did not settle: " + summary.message);
    }

    void weigh(Solution& at) const {
        at.log_posterior = 0;
        for (std::size_t i = 0; i < unknowns_.size(); ++i) {
            at.log_posterior -= std::pow(at.mean[static_cast<Eigen::Index>(i)] / unknowns_[i].sd, 2) / 2;
        }
        for (std::size_t i = 0; i < observations_.size(); ++i) {
            const Observation& seen = observations_[i];
            const Expectation expected = expect(field_, seen, at.mean);
            const double distance = std::log(seen.value + seen.floor) - expected.logarithm;
            double at_place = 1;  // the probability that no shadow's edge was crossed
            double across = 0;
            for (const auto& [probability, step] : seen.placement.steps) {
                at_place -= probability;
                across += probability * normal_density(distance - step, penumbra);
            }
            const double good = (1 - spoiled_) * at_place * normal_density(distance, expected.sd);
            const double beside = (1 - spoiled_) * across;
            const double bad = spoiled_ * spoiled_density(distance);
            const double all = good + beside + bad;
            at.weight[i] = good / all;
            at.spoiled[i] = bad / all;
            at.log_posterior += std::log(all);
        }
    }

    const ResponseField& field_;
    const std::vector<Unknown>& unknowns_;
    const std::vector<Observation>& observations_;
    double spoiled_;
};

}  // namespace

Solution solve(const ResponseField& field, const std::vector<Unknown>& unknowns,
               const std::vector<Observation>& observations, double spoiled) {
    const Mixture mixture(field, unknowns, observations, spoiled);
    const std::size_t n = observations.size();
    Solution best = mixture.climb(std::vector<double>(n, 1.0));
    const auto consider = [&](std::vector<double> weight) {
        Solution other = mixture.climb(std::move(weight));
        if (other.log_posterior > best.log_posterior + 1e-9) best = std::move(other);
    };
    // A spoiled reading that is trusted at first can drag the field along. So all are distrusted from the start, which
    // weighs them in the document's own light; and each one, and each pair of a small set.
    consider(std::vector<double>(n, 0.0));
    constexpr std::size_t most_for_pairs = 12;
    const auto distrust = [&](std::size_t i, std::size_t j) {
        std::vector<double> weight(n, 1.0);
        weight[i] = weight[j] = 0;
        consider(std::move(weight));
    };
    for (std::size_t i = 0; i < n; ++i) distrust(i, i);
    if (n <= most_for_pairs) {
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < i; ++j) distrust(i, j);
        }
    }
    mixture.add_covariance(best);
    return best;
}

}  // namespace dapple::inference
