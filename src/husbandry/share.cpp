#include "husbandry/share.h"

#include <algorithm>
#include <numeric>

namespace dapple::husbandry {

double total(const std::vector<double>& area) {
    return std::accumulate(area.begin(), area.end(), 0.0);
}

// Halves what is left until one place is, as the selection of nth_element does, but by area: the verdict asks for many
// quantiles in each of hundreds of drawn fields, and sorting was half of its time.
double quantile(const std::vector<double>& values, const std::vector<double>& area, double share) {
    struct Place {
        double value;
        double area;
    };
    std::vector<Place> places(values.size());
    for (std::size_t i = 0; i < places.size(); ++i) places[i] = {values[i], area[i]};
    const double wanted =
        share * total(area) * (1 - 1e-12);  // rounding must not carry it past the last place
    auto first = places.begin();
    auto last = places.end();
    double below = 0;
    while (last - first > 1) {
        const auto middle = first + (last - first) / 2;
        std::nth_element(first, middle, last,
                         [](const Place& a, const Place& b) { return a.value < b.value; });
        double with = below;
        for (auto place = first; place != middle; ++place) with += place->area;
        if (with >= wanted && with > 0) {
            last = middle;
        } else {
            below = with;
            first = middle;
        }
    }
    return first->value;
}

std::vector<double> shares_between(const std::vector<double>& values, const std::vector<double>& area,
                                   const std::vector<double>& edges) {
    std::vector<double> shares(edges.size() - 1, 0);
    const double whole = total(area);
    if (whole <= 0) return shares;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (values[i] < edges.front() || values[i] >= edges.back()) continue;
        const auto above = std::upper_bound(edges.begin(), edges.end(), values[i]);
        shares[static_cast<std::size_t>(above - edges.begin() - 1)] += area[i] / whole;
    }
    return shares;
}

}  // namespace dapple::husbandry
