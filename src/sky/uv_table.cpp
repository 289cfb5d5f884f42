#include "sky/uv_table.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "spectrum/quantity.h"

namespace dapple::sky {

namespace {

constexpr double last_zenith = 89.99;

std::vector<double> zenith_nodes() {
    std::vector<double> nodes;
    for (double z = 0; z < 60; z += 2.5) nodes.push_back(z);
    for (double z = 60; z < 80; z += 1) nodes.push_back(z);
    for (double z = 80; z < 90; z += 0.5) nodes.push_back(z);
    nodes.push_back(last_zenith);
    return nodes;
}

// The interval of ascending nodes that holds x, and how far along it x lies.
std::pair<std::size_t, double> place_of(const std::vector<double>& nodes, double x) {
    if (nodes.size() == 1) return {0, 0};
    const auto next = std::upper_bound(nodes.begin() + 1, nodes.end() - 1, x) - nodes.begin();
    const auto i = static_cast<std::size_t>(next) - 1;
    return {i, std::clamp((x - nodes[i]) / (nodes[i + 1] - nodes[i]), 0.0, 1.0)};
}

}  // namespace

UvTable::UvTable(Conditions conditions, std::vector<double> ozone_du) : zenith_(zenith_nodes()) {
    assert(!ozone_du.empty());
    conditions.distance_au = 1;
    for (const double du : ozone_du) {
        conditions.air.ozone_du = du;
        log_ozone_.push_back(std::log(du));
        auto& row = logs_.emplace_back();
        for (const auto& light : ultraviolet(conditions, zenith_)) {
            const auto total = light.total();
            row.push_back({std::log(measure(total, spectrum::Quantity::uvi)),
                           std::log(measure(total, spectrum::Quantity::d3))});
        }
    }
}

Uv UvTable::at(double ozone_du, double zenith_deg) const {
    if (zenith_deg >= 90) return {};
    const auto [o, more] = place_of(log_ozone_, std::log(ozone_du));
    const auto [z, lower] = place_of(zenith_, zenith_deg);
    const std::size_t other = std::min(o + 1, logs_.size() - 1);
    const auto mix = [&, o = o, z = z, more = more, lower = lower](double Uv::*what) {
        const auto along = [&](const std::vector<Uv>& row) {
            return row[z].*what + lower * (row[z + 1].*what - row[z].*what);
        };
        return std::exp(along(logs_[o]) + more * (along(logs_[other]) - along(logs_[o])));
    };
    return {mix(&Uv::uvi), mix(&Uv::d3_w_m2)};
}

}  // namespace dapple::sky
