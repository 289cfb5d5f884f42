#include "light/near_order.h"

#include <algorithm>
#include <array>

namespace dapple::light {

using scene::Vec3;

namespace {

constexpr int bits = 4;  // an axis: 16 x 16 x 16 cells, some six points to a cell of a large grid
constexpr std::uint32_t cells = 1U << bits;

// ..dcba -> ..d00c00b00a
constexpr std::uint32_t spread_out(std::uint32_t v) {
    std::uint32_t out = 0;
    for (unsigned bit = 0; bit < bits; ++bit) out |= ((v >> bit) & 1U) << (3 * bit);
    return out;
}

}  // namespace

std::vector<std::uint32_t> near_order(std::span<const Vec3> points) {
    std::vector<std::uint32_t> order(points.size());
    if (points.empty()) return order;
    Vec3 low = points.front();
    Vec3 high = low;
    for (const Vec3& p : points) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    const double side = std::max((high - low).maxCoeff(), 1e-9);  // cubes: a flat slice uses its two axes
    std::array<std::uint32_t, cells> spread;
    for (std::uint32_t i = 0; i < cells; ++i) spread[i] = spread_out(i);
    const auto cell_of = [&](const Vec3& p) {
        std::uint32_t cell = 0;
        for (int k = 0; k < 3; ++k) {
            const auto step = static_cast<std::uint32_t>((p[k] - low[k]) / side * cells);
            cell |= spread[std::min(step, cells - 1)] << k;
        }
        return cell;
    };
    std::vector<std::uint32_t> begin(cells * cells * cells + 1, 0);
    std::vector<std::uint16_t> cell(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        cell[i] = static_cast<std::uint16_t>(cell_of(points[i]));
        ++begin[cell[i] + 1U];
    }
    for (std::size_t c = 1; c < begin.size(); ++c) begin[c] += begin[c - 1];
    for (std::size_t i = 0; i < points.size(); ++i) order[begin[cell[i]]++] = static_cast<std::uint32_t>(i);
    return order;
}

}  // namespace dapple::light
