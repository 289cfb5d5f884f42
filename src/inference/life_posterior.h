// What a lamp's readings say about its decay: the Bayesian core of lamp life, in plain numbers.
//
//     ln reading(s, h) = c(s) - alpha (h - centre(s)) + noise           for each spot s, h in 1000 hours
//
// One decay rate a lamp, one level a spot. Priors: ln alpha normal, by lamp kind; every level flat; ln sigma of the
// noise normal about ln 0.08. Noise is a contaminated normal, (1 - e) N(0, sigma) + e N(0, 5 sigma) (Box & Tiao 1968,
// "A Bayesian approach to some outlier problems", Biometrika 55:119-129): a leaf or a thumb in the way moves the
// curve little, and each reading comes with the probability that it was such a one.
//
// Integrated on a grid over (ln alpha, ln sigma, level), which is refined until it covers the posterior and no more:
// exact to the grid where Laplace's normal would be wrong, since few readings leave alpha with its log-normal
// prior, a doubtful reading gives two summits, and the day a line crosses a limit is a ratio with a long tail.
#pragma once

#include <vector>

namespace dapple::inference {

struct DecayReading {
    double kilohours;
    double log_value;
    double noise_scale = 1;  // this reading's noise over sigma; above 1 near the meter's floor
};

struct DecayOptions {
    double alpha_median;  // per 1000 h
    double alpha_log_sd;
    double noise = 0.08;  // relative; engine.md section 6
    double noise_log_sd = 0.3;
    double spoiled_share = 0.05;  // e; our judgement, one reading in twenty
};

class DecayPosterior {
  public:
    // readings[s]: of spot s, at least one each; at least one spot.
    DecayPosterior(const std::vector<std::vector<DecayReading>>& readings, const DecayOptions& options);

    double alpha_mean() const;
    double alpha_sd() const;
    double alpha_quantile(double probability) const;  // per 1000 h

    // The level of a spot: mean of ln output at `kilohours`, and its standard deviation.
    double level_mean(std::size_t spot, double kilohours) const;
    double level_sd(std::size_t spot, double kilohours) const;

    // That the output at a spot is below exp(log_limit) after so many hours; never falls with the hours. `blur` is a
    // further normal uncertainty of the limit (sd in logs).
    double probability_below(std::size_t spot, double kilohours, double log_limit, double blur = 0) const;

    // The hours at which it falls below, that is where `probability_below` reaches `probability`; from -1e6 to 1e6.
    double crossing_quantile(std::size_t spot, double log_limit, double probability, double blur = 0) const;

    // That a reading was spoiled, in the order given.
    const std::vector<std::vector<double>>& spoiled() const { return spoiled_; }

  private:
    struct Level {
        double centre;               // kilohours
        std::vector<double> value;   // ascending, evenly spaced
        std::vector<double> weight;  // [alpha * value.size() + value]: joint with alpha; sums to 1
    };
    std::vector<double> alpha_;         // ascending, evenly spaced in the logarithm
    std::vector<double> alpha_weight_;  // sums to 1
    std::vector<Level> levels_;
    std::vector<std::vector<double>> spoiled_;
};

}  // namespace dapple::inference
