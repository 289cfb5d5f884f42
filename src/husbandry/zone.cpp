#include "husbandry/zone.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace dapple::husbandry {

namespace {

struct Limits {
    double low;
    double high;
};

// Highest UVI sought, by zone (Ferguson et al. 2010, from memory); zone 1 by common practice, no source.
constexpr std::array<Limits, 4> highest_sought = {{{0, 0.7}, {1.1, 3.0}, {2.9, 7.4}, {4.5, 9.5}}};

constexpr double meter_floor_uvi = 0.05;

bool is_zone(int zone) {
    return zone >= 1 && zone <= 4;
}

const Limits& limits(int zone) {
    return highest_sought[static_cast<std::size_t>(zone - 1)];
}

}  // namespace

std::optional<Band> band_of(const std::vector<int>& zones) {
    if (zones.empty() || !std::all_of(zones.begin(), zones.end(), is_zone)) return std::nullopt;
    const auto [first, last] = std::minmax_element(zones.begin(), zones.end());
    return Band{limits(*first).low, limits(*first).high, limits(*last).high};
}

Band band_between(double low, double high) {
    return {low, high, high};
}

std::string_view name(State state) {
    switch (state) {
        case State::below:
            return "below";
        case State::low:
            return "low";
        case State::in:
            return "in";
        case State::high:
            return "high";
        case State::above:
            return "above";
    }
    return "";
}

State state_of(double uvi, const Band& band) {
    if (uvi < band.low) return State::below;
    if (uvi > band.high) return State::above;
    const double start = std::max(band.low, meter_floor_uvi);
    if (start >= band.high) return State::in;  // a band too narrow or too faint to have ends
    const double fifth = std::pow(band.high / start, 0.2);
    if (band.low > 0 && uvi < start * fifth) return State::low;
    if (uvi > band.high / fifth) return State::high;
    return State::in;
}

}  // namespace dapple::husbandry
