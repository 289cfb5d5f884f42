// Simulated keepers (tests/inference/fit_keepers.h): do the intervals hold at places never measured, how much nearer
// does the fit come, are spoiled readings found; and how many readings does `next` save against a random choice.
// Usage: bench_keepers [enclosures, 400] [seed, 1]
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <cstdlib>
#include <mutex>

#include "inference/next_keepers.h"

namespace {

using namespace dapple;

// Each keeper from a seed of its own: the same figures however the work is shared out.
std::uint64_t seed_of(int seed, int keeper) {
    return static_cast<std::uint64_t>(seed) * 1'000'003 + static_cast<std::uint64_t>(keeper);
}

bool fit_study(int enclosures, int seed, std::size_t readings) {
    tests::Tally all;
    std::mutex gate;
    tbb::parallel_for(0, enclosures, [&](int i) {
        tests::Keepers keepers(seed_of(seed, i));
        const tests::Keeper keeper = keepers.next(readings);
        tests::Tally one;
        add_to(one, keeper, inference::fit(keeper.document, keeper.readings, tests::direct_light()),
               keepers.field());
        const std::lock_guard lock(gate);
        all += one;
    });
    const double fitted = tests::Tally::median(all.fitted_error);
    const double unfitted = tests::Tally::median(all.unfitted_error);
    fmt::print(
        "{:2} readings: {:.1f} % of {} places held; median error {:.1f} %, unfitted {:.1f} %, ratio {:.2f}; "
        "spoiled {} of {}, recall {:.2f}, precision {:.2f} of {} set aside\n",
        readings, 100 * all.coverage(), all.places, 100 * fitted, 100 * unfitted, fitted / unfitted,
        all.spoiled, static_cast<std::size_t>(enclosures) * readings, all.recall(), all.precision(),
        all.set_aside);
    return all.coverage() >= 0.87 && all.coverage() <= 0.93 && fitted <= 0.5 * unfitted &&
           all.recall() >= 0.8 && all.precision() >= 0.8;
}

bool next_study(int enclosures, int seed) {
    constexpr std::size_t most = 9;
    tests::Saving all(most);
    std::mutex gate;
    tbb::parallel_for(0, enclosures, [&](int i) {
        tests::Keepers keepers(seed_of(seed, i));
        std::mt19937_64 random(seed_of(seed, i));
        tests::Saving one(most);
        one.add(keepers, keepers.next(0), random);
        const std::lock_guard lock(gate);
        all += one;
    });
    fmt::print("mean doubt of the verdict's questions, bits; before any reading {:.3f}\n", all.at_random(0));
    double shares = 0;
    for (std::size_t k = 1; k <= most; ++k) {
        const double fewer = all.as_certain_as(k);
        fmt::print("{:2} readings at random {:.3f}, by next {:.3f}; as certain as at random after {:.1f}\n",
                   k, all.at_random(k), all.by_next(k), fewer);
        shares += fewer / static_cast<double>(k) / most;
    }
    fmt::print("next needs {:.2f} of the readings that a random choice needs for the same certainty\n",
               shares);
    return shares <= 2.0 / 3;
}

}  // namespace

int main(int count, char** words) {
    const int enclosures = count > 1 ? std::atoi(words[1]) : 400;
    const int seed = count > 2 ? std::atoi(words[2]) : 1;
    bool kept = true;
    if (count < 4)
        for (const std::size_t readings : {5U, 8U, 12U}) kept &= fit_study(enclosures, seed, readings);
    kept &= next_study(enclosures, seed);
    return kept ? 0 : 1;
}
