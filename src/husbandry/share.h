// Shares of reach: quantiles and parts of a set of places of which each stands for an area.
#pragma once

#include <functional>
#include <vector>

namespace dapple::husbandry {

double total(const std::vector<double>& area);

// The smallest value that at least `share` of the area stays at or below; the least value for share 0. At
// least one place.
double quantile(const std::vector<double>& values, const std::vector<double>& area, double share);

// Share of the area whose value answers; 0 where there is no area.
double share_where(const std::vector<double>& values, const std::vector<double>& area,
                   const std::function<bool(double)>& answers);

}  // namespace dapple::husbandry
