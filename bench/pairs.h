// Timing on a shared, noisy machine: what is compared runs in turn, A B A B, and medians and ratios are quoted.
#pragma once

#include <algorithm>
#include <chrono>
#include <functional>
#include <vector>

namespace dapple::bench {

inline double seconds(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

inline double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                     values.end());
    return values[values.size() / 2];
}

// Median seconds of each work, all taken in turn for `rounds` rounds after one that does not count.
inline std::vector<double> in_turn(const std::vector<std::function<void()>>& works, int rounds) {
    std::vector<std::vector<double>> times(works.size());
    for (int round = -1; round < rounds; ++round) {
        for (std::size_t i = 0; i < works.size(); ++i) {
            const double t = seconds(works[i]);
            if (round >= 0) times[i].push_back(t);
        }
    }
    std::vector<double> medians;
    for (auto& t : times) medians.push_back(median(t));
    return medians;
}

}  // namespace dapple::bench
