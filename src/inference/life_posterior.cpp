#include "inference/life_posterior.h"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace dapple::inference {

namespace {

constexpr std::size_t alpha_steps = 29;
constexpr std::size_t noise_steps = 7;
constexpr std::size_t level_steps = 57;
constexpr double negligible = 1e-5;  // of the summit; what lies beyond is left out
constexpr int most_passes = 8;

struct Axis {
    double low;
    double high;
    std::size_t steps;
    double step() const { return (high - low) / static_cast<double>(steps - 1); }
    double at(std::size_t i) const { return low + step() * static_cast<double>(i); }
};

// Keeps the part of the axis that carries weight, a step to spare on both sides, where that is much less than all.
bool narrow(Axis& axis, const std::vector<double>& weight) {
    const double least = negligible * *std::max_element(weight.begin(), weight.end());
    std::size_t first = 0;
    while (weight[first] < least) ++first;
    std::size_t last = axis.steps - 1;
    while (weight[last] < least) --last;
    const std::size_t from = first == 0 ? 0 : first - 1;
    const std::size_t to = std::min(last + 1, axis.steps - 1);
    const bool much = to - from < 2 * (axis.steps - 1) / 3;
    if (much) axis = {axis.at(from), axis.at(to), axis.steps};
    return much;
}

struct Spot {
    const std::vector<DecayReading>* readings;
    double centre;
    Axis level;
};

// Weights on the whole grid, [alpha][noise] times [level] for each spot.
struct Grid {
    Axis log_alpha;
    Axis log_noise;
    std::vector<Spot> spots;
    std::vector<std::vector<double>> log_likelihood;  // [spot][(alpha, noise, level)]
    std::vector<std::vector<double>> log_marginal;    // [spot][(alpha, noise)]: level integrated out
    std::vector<double> weight;                       // [(alpha, noise)], all spots; sums to 1
};

// The contaminated normal's density at z core widths, up to a constant factor.
constexpr double spoiled_scale = 5;  // Box & Tiao's k, in core widths

using Levels = Eigen::Array<double, level_steps, 1>;

// exp(-x2/2) at x0 - i h. Each is the one before times a factor that itself changes by a factor, so that a reading costs
// four exponentials, not one a level; begun at the summit, where none has vanished.
Levels normal_at(double x0, double h) {
    Levels all;
    const auto last = static_cast<double>(level_steps - 1);
    const auto summit = static_cast<Eigen::Index>(std::clamp(std::round(x0 / h), 0.0, last));
    const double x = x0 - h * static_cast<double>(summit);
    const double change = std::exp(-h * h);
    const double first = std::exp(-0.5 * x * x);
    double value = first;
    double factor = std::exp(x * h - 0.5 * h * h);
    all[summit] = first;
    for (Eigen::Index i = summit + 1; i < all.size(); ++i, factor *= change) all[i] = value *= factor;
    value = first;
    factor = std::exp(-x * h - 0.5 * h * h);
    for (Eigen::Index i = summit - 1; i >= 0; --i, factor *= change) all[i] = value *= factor;
    return all;
}

struct Contaminated {
    double spoiled_share;

    double wide(double z) const {
        return spoiled_share / spoiled_scale * std::exp(-0.5 * z * z / (spoiled_scale * spoiled_scale));
    }
    double core(double z) const { return (1 - spoiled_share) * std::exp(-0.5 * z * z); }

    // core + wide, given exp(-z2/50), of which exp(-z2/2) is the 25th power.
    Levels density(const Levels& slow) const {
        const Levels fifth = slow.square().square() * slow;
        const Levels fast = fifth.square().square() * fifth;
        return (1 - spoiled_share) * fast + spoiled_share / spoiled_scale * slow;
    }
    double probability_spoiled(double z) const {
        return wide(z) / (wide(z) + core(z) + std::numeric_limits<double>::min());
    }
};

double log_sum(const double* values, std::size_t count) {
    const double top = *std::max_element(values, values + count);
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i) sum += std::exp(values[i] - top);
    return top + std::log(sum);
}

double residual(const Spot& spot, const DecayReading& reading, double alpha, double level) {
    return reading.log_value + alpha * (reading.kilohours - spot.centre) - level;
}

void evaluate_spot(const Grid& grid, const Spot& spot, const Contaminated& noise, std::vector<double>& all,
                   std::vector<double>& marginal) {
    all.assign(alpha_steps * noise_steps * level_steps, 0);
    marginal.assign(alpha_steps * noise_steps, 0);
    for (std::size_t a = 0; a < alpha_steps; ++a) {
        const double alpha = std::exp(grid.log_alpha.at(a));
        for (std::size_t n = 0; n < noise_steps; ++n) {
            const double sigma = std::exp(grid.log_noise.at(n));
            double* row = &all[(a * noise_steps + n) * level_steps];
            Eigen::Map<Levels> sum(row);
            // Densities are multiplied and their logarithm taken when a product grows small or large.
            Levels product = Levels::Ones();
            for (const DecayReading& reading : *spot.readings) {
                const double spread = sigma * reading.noise_scale;
                const double wide = spoiled_scale * spread;
                const Levels slow = normal_at(residual(spot, reading, alpha, spot.level.low) / wide,
                                              spot.level.step() / wide);
                product *= noise.density(slow) / spread + 1e-150;
                if (product.minCoeff() > 1e-100 && product.maxCoeff() < 1e100) continue;
                sum += product.log();
                product.setOnes();
            }
            sum += product.log();
            marginal[a * noise_steps + n] = log_sum(row, level_steps) + std::log(spot.level.step());
        }
    }
}

void evaluate(Grid& grid, const DecayOptions& options) {
    const Contaminated noise = {options.spoiled_share};
    grid.log_likelihood.resize(grid.spots.size());
    grid.log_marginal.resize(grid.spots.size());
    grid.weight.assign(alpha_steps * noise_steps, 0);
    for (std::size_t a = 0; a < alpha_steps; ++a) {
        for (std::size_t n = 0; n < noise_steps; ++n) {
            const double za = (grid.log_alpha.at(a) - std::log(options.alpha_median)) / options.alpha_log_sd;
            const double zn = (grid.log_noise.at(n) - std::log(options.noise)) / options.noise_log_sd;
            grid.weight[a * noise_steps + n] = -0.5 * (za * za + zn * zn);
        }
    }
    for (std::size_t s = 0; s < grid.spots.size(); ++s) {
        evaluate_spot(grid, grid.spots[s], noise, grid.log_likelihood[s], grid.log_marginal[s]);
        for (std::size_t i = 0; i < grid.weight.size(); ++i) grid.weight[i] += grid.log_marginal[s][i];
    }
    const double total = log_sum(grid.weight.data(), grid.weight.size());
    for (double& weight : grid.weight) weight = std::exp(weight - total);
}

// Weight of a level under given alpha and noise, summing to the weight of these.
double joint(const Grid& grid, std::size_t spot, std::size_t i, std::size_t level) {
    const Spot& s = grid.spots[spot];
    return grid.weight[i] * s.level.step() *
           std::exp(grid.log_likelihood[spot][i * level_steps + level] - grid.log_marginal[spot][i]);
}

bool refine(Grid& grid) {
    std::vector<double> alpha(alpha_steps, 0);
    std::vector<double> noise(noise_steps, 0);
    for (std::size_t i = 0; i < grid.weight.size(); ++i) {
        alpha[i / noise_steps] += grid.weight[i];
        noise[i % noise_steps] += grid.weight[i];
    }
    bool again = false;
    for (std::size_t s = 0; s < grid.spots.size(); ++s) {
        std::vector<double> level(level_steps, 0);
        for (std::size_t i = 0; i < grid.weight.size(); ++i) {
            for (std::size_t l = 0; l < level_steps; ++l) level[l] += joint(grid, s, i, l);
        }
        again |= narrow(grid.spots[s].level, level);
    }
    again |= narrow(grid.log_alpha, alpha);
    again |= narrow(grid.log_noise, noise);
    return again;
}

Spot start(const std::vector<DecayReading>& readings, double widest) {
    double centre = 0;
    for (const auto& r : readings) centre += r.kilohours / static_cast<double>(readings.size());
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const auto& r : readings) {
        low = std::min(low, r.log_value - widest * r.noise_scale);
        high = std::max(high, r.log_value + widest * r.noise_scale);
    }
    return {&readings, centre, {low, high, level_steps}};
}

// Points and weights of a five-point Gauss-Hermite rule for a standard normal (Abramowitz & Stegun 25.4.46, table
// 25.10, scaled).
constexpr std::array<std::pair<double, double>, 5> gauss_hermite = {
    {{-2.8569700138728056, 0.011257411327720691},
     {-1.3556261799742659, 0.22207592200561264},
     {0, 0.53333333333333333},
     {1.3556261799742659, 0.22207592200561264},
     {2.8569700138728056, 0.011257411327720691}}};

}  // namespace

DecayPosterior::DecayPosterior(const std::vector<std::vector<DecayReading>>& readings,
                               const DecayOptions& options) {
    Grid grid;
    const double middle = std::log(options.alpha_median);
    grid.log_alpha = {middle - 5 * options.alpha_log_sd, middle + 5 * options.alpha_log_sd, alpha_steps};
    const double noise_middle = std::log(options.noise);
    grid.log_noise = {noise_middle - 4.5 * options.noise_log_sd, noise_middle + 4.5 * options.noise_log_sd,
                      noise_steps};
    const double widest = 5 * spoiled_scale * options.noise;  // a lone reading may be a spoiled one
    for (const auto& of_spot : readings) grid.spots.push_back(start(of_spot, widest));
    evaluate(grid, options);
    for (int pass = 1; pass < most_passes && refine(grid); ++pass) evaluate(grid, options);

    const Contaminated noise = {options.spoiled_share};
    alpha_weight_.assign(alpha_steps, 0);
    for (std::size_t a = 0; a < alpha_steps; ++a) {
        alpha_.push_back(std::exp(grid.log_alpha.at(a)));
        for (std::size_t n = 0; n < noise_steps; ++n) alpha_weight_[a] += grid.weight[a * noise_steps + n];
    }
    for (std::size_t s = 0; s < grid.spots.size(); ++s) {
        const Spot& spot = grid.spots[s];
        Level level = {spot.centre, {}, std::vector<double>(alpha_steps * level_steps, 0)};
        std::vector<double> spoiled(spot.readings->size(), 0);
        for (std::size_t l = 0; l < level_steps; ++l) level.value.push_back(spot.level.at(l));
        for (std::size_t i = 0; i < grid.weight.size(); ++i) {
            const std::size_t a = i / noise_steps;
            const double sigma = std::exp(grid.log_noise.at(i % noise_steps));
            for (std::size_t l = 0; l < level_steps; ++l) {
                const double weight = joint(grid, s, i, l);
                level.weight[a * level_steps + l] += weight;
                if (weight < 1e-12) continue;
                for (std::size_t r = 0; r < spoiled.size(); ++r) {
                    const DecayReading& reading = (*spot.readings)[r];
                    const double z =
                        residual(spot, reading, alpha_[a], level.value[l]) / (sigma * reading.noise_scale);
                    spoiled[r] += weight * noise.probability_spoiled(z);
                }
            }
        }
        levels_.push_back(std::move(level));
        spoiled_.push_back(std::move(spoiled));
    }
}

double DecayPosterior::alpha_mean() const {
    double mean = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) mean += alpha_weight_[a] * alpha_[a];
    return mean;
}

double DecayPosterior::alpha_sd() const {
    const double mean = alpha_mean();
    double variance = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) {
        variance += alpha_weight_[a] * (alpha_[a] - mean) * (alpha_[a] - mean);
    }
    return std::sqrt(variance);
}

double DecayPosterior::alpha_quantile(double probability) const {
    // Each grid value stands for a step of ln alpha about it.
    const double step = std::log(alpha_[1] / alpha_[0]);
    double below = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) {
        if (below + alpha_weight_[a] >= probability) {
            return alpha_[a] * std::exp(step * ((probability - below) / alpha_weight_[a] - 0.5));
        }
        below += alpha_weight_[a];
    }
    return alpha_.back();
}

double DecayPosterior::level_mean(std::size_t spot, double kilohours) const {
    const Level& level = levels_[spot];
    double mean = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) {
        for (std::size_t l = 0; l < level.value.size(); ++l) {
            mean += level.weight[a * level.value.size() + l] *
                    (level.value[l] - alpha_[a] * (kilohours - level.centre));
        }
    }
    return mean;
}

double DecayPosterior::level_sd(std::size_t spot, double kilohours) const {
    const Level& level = levels_[spot];
    const double mean = level_mean(spot, kilohours);
    double variance = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) {
        for (std::size_t l = 0; l < level.value.size(); ++l) {
            const double off = level.value[l] - alpha_[a] * (kilohours - level.centre) - mean;
            variance += level.weight[a * level.value.size() + l] * off * off;
        }
    }
    return std::sqrt(variance);
}

double DecayPosterior::probability_below(std::size_t spot, double kilohours, double log_limit,
                                         double blur) const {
    if (blur > 0) {
        double probability = 0;
        for (const auto& [z, weight] : gauss_hermite) {
            probability += weight * probability_below(spot, kilohours, log_limit + blur * z);
        }
        return probability;
    }
    // A level on the grid stands for a step about it.
    const Level& level = levels_[spot];
    const std::size_t steps = level.value.size();
    const double step = level.value[1] - level.value[0];
    double probability = 0;
    for (std::size_t a = 0; a < alpha_.size(); ++a) {
        const double limit = log_limit + alpha_[a] * (kilohours - level.centre);
        const double* weight = &level.weight[a * steps];
        for (std::size_t l = 0; l < steps; ++l) {
            probability += weight[l] * std::clamp((limit - level.value[l]) / step + 0.5, 0.0, 1.0);
        }
    }
    return probability;
}

double DecayPosterior::crossing_quantile(std::size_t spot, double log_limit, double probability,
                                         double blur) const {
    double low = -1e6;
    double high = 1e6;
    // 80 halvings of 2e6 leave less than rounding.
    for (int i = 0; i < 80; ++i) {
        const double middle = 0.5 * (low + high);
        (probability_below(spot, middle, log_limit, blur) < probability ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace dapple::inference
