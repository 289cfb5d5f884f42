// Simulated keepers who measure one place after another: where `next` says, or anywhere among the places it weighs.
#pragma once

#include <algorithm>
#include <random>
#include <stdexcept>
#include <vector>

#include "inference/fit_keepers.h"
#include "inference/next.h"

namespace dapple::tests {

enum class Choice { by_next, at_random };

inline inference::FitOptions direct_light() {
    inference::FitOptions options;
    options.field.bounces = 0;
    return options;
}

// The verdict's doubt (inference::Outlook) before the first reading and after each.
inline std::vector<double> doubts(Keepers& keepers, Keeper keeper, Choice choice, std::size_t readings,
                                  std::mt19937_64& random) {
    const light::Field truth(keeper.truth, keepers.field());
    keeper.readings.clear();
    std::vector<double> doubts;
    while (true) {
        const auto outlook =
            inference::outlook(inference::fit(keeper.document, keeper.readings, direct_light()));
        if (!outlook) throw std::logic_error(to_text(outlook.error()));
        doubts.push_back(outlook->doubt);
        if (doubts.size() > readings) return doubts;
        const auto& places = outlook->places;
        std::uniform_int_distribution<std::size_t> any(0, places.size() - 1);
        const auto best = std::max_element(places.begin(), places.end(),
                                           [](const auto& a, const auto& b) { return a.gain < b.gain; });
        keepers.read(keeper, truth, choice == Choice::by_next ? best->point : places[any(random)].point);
    }
}

// Over many keepers.
class Saving {
  public:
    explicit Saving(std::size_t readings) : by_next_(readings + 1), at_random_(readings + 1) {}

    void add(Keepers& keepers, const Keeper& keeper, std::mt19937_64& random) {
        const std::size_t readings = by_next_.size() - 1;
        const auto next = doubts(keepers, keeper, Choice::by_next, readings, random);
        const auto chance = doubts(keepers, keeper, Choice::at_random, readings, random);
        for (std::size_t i = 0; i <= readings; ++i) by_next_[i] += next[i], at_random_[i] += chance[i];
        ++keepers_;
    }
    void operator+=(const Saving& other) {
        for (std::size_t i = 0; i < by_next_.size(); ++i) {
            by_next_[i] += other.by_next_[i];
            at_random_[i] += other.at_random_[i];
        }
        keepers_ += other.keepers_;
    }

    // The mean doubt after so many readings, bits.
    double by_next(std::size_t readings) const { return by_next_[readings] / keepers_; }
    double at_random(std::size_t readings) const { return at_random_[readings] / keepers_; }

    // After how many readings by `next` the mean doubt is what it is after so many at random; between whole numbers
    // of readings taken as a straight line.
    double as_certain_as(std::size_t readings) const {
        const double wanted = at_random_[readings];
        for (std::size_t k = 1; k < by_next_.size(); ++k) {
            if (by_next_[k] > wanted) continue;
            return static_cast<double>(k) - (wanted - by_next_[k]) / (by_next_[k - 1] - by_next_[k]);
        }
        return static_cast<double>(by_next_.size());
    }

  private:
    std::vector<double> by_next_;
    std::vector<double> at_random_;
    int keepers_ = 0;
};

}  // namespace dapple::tests
