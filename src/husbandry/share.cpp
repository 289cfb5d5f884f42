#include "husbandry/share.h"

#include <algorithm>
#include <numeric>

namespace dapple::husbandry {

double total(const std::vector<double>& area) {
    return std::accumulate(area.begin(), area.end(), 0.0);
}

double quantile(const std::vector<double>& values, const std::vector<double>& area, double share) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    const double wanted =
        share * total(area) * (1 - 1e-12);  // rounding must not carry it past the last place
    double below = 0;
    for (const std::size_t i : order) {
        below += area[i];
        if (below >= wanted && below > 0) return values[i];
    }
    return values[order.back()];
}

double share_where(const std::vector<double>& values, const std::vector<double>& area,
                   const std::function<bool(double)>& answers) {
    const double whole = total(area);
    if (whole <= 0) return 0;
    double sum = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (answers(values[i])) sum += area[i];
    }
    return sum / whole;
}

}  // namespace dapple::husbandry
