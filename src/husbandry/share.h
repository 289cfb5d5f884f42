// Shares of reach: quantiles and parts of a set of places of which each stands for an area.
#pragma once

#include <cstddef>
#include <vector>

namespace dapple::husbandry {

double total(const std::vector<double>& area);

// The smallest value that at least `share` of the area stays at or below; the least value for share 0. At
// least one place.
double quantile(const std::vector<double>& values, const std::vector<double>& area, double share);

// Share of the area whose value answers; 0 where there is no area.
template <class Answers>
double share_where(const std::vector<double>& values, const std::vector<double>& area,
                   const Answers& answers) {
    const double whole = total(area);
    if (whole <= 0) return 0;
    double sum = 0;
    for (std::size_t i = 0; i < values.size(); ++i) sum += answers(values[i]) ? area[i] : 0;
    return sum / whole;
}

// Shares of the area whose values lie in [edges[i], edges[i + 1]), edges ascending; 0 where there is no area.
std::vector<double> shares_between(const std::vector<double>& values, const std::vector<double>& area,
                                   const std::vector<double>& edges);

}  // namespace dapple::husbandry
