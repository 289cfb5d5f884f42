#include "server/field_grid.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>

#include "server/numbers.h"

namespace dapple::server {

using nlohmann::json;

namespace {

void append_little_endian(std::string& out, std::uint32_t word) {
    for (int shift = 0; shift < 32; shift += 8) out.push_back(static_cast<char>((word >> shift) & 0xffU));
}

Expected<std::array<int, 3>> parse_counts(const json& grid) {
    const std::string allowed =
        fmt::format("three whole numbers from 1 whose product is at most {}", most_grid_points);
    const auto found = grid.find("counts");
    if (found == grid.end()) return refuse({"request", "/grid/counts", "nothing", allowed});
    const Problem problem{"request", "/grid/counts", shown(*found), allowed};
    if (!found->is_array() || found->size() != 3) return refuse(problem);
    std::array<int, 3> counts{};
    double product = 1;
    for (std::size_t i = 0; i < 3; ++i) {
        const json& n = (*found)[i];
        if (!n.is_number_integer() || n < 1 || n > most_grid_points) return refuse(problem);
        counts[i] = n.get<int>();
        product *= counts[i];
    }
    if (product > most_grid_points) return refuse(problem);
    return counts;
}

}  // namespace

Expected<Grid> parse_grid(const json& grid) {
    if (!grid.is_object()) {
        return refuse({"request", "/grid", shown(grid), "an object with min_cm, max_cm and counts"});
    }
    const auto min = parse_point(grid.value("min_cm", json()), "/grid/min_cm");
    if (!min) return tl::unexpected(min.error());
    const auto max = parse_point(grid.value("max_cm", json()), "/grid/max_cm");
    if (!max) return tl::unexpected(max.error());
    const auto counts = parse_counts(grid);
    if (!counts) return tl::unexpected(counts.error());
    return Grid{*min, *max, *counts};
}

std::vector<scene::Vec3> points(const Grid& grid) {
    const auto [nx, ny, nz] = grid.counts;
    const auto place = [&](int axis, int i) {
        const int n = grid.counts[static_cast<std::size_t>(axis)];
        const double part = n > 1 ? static_cast<double>(i) / (n - 1) : 0.0;
        return grid.min[axis] + part * (grid.max[axis] - grid.min[axis]);
    };
    std::vector<scene::Vec3> result;
    result.reserve(static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny) *
                   static_cast<std::size_t>(nz));
    for (int k = 0; k < nz; ++k) {
        for (int j = 0; j < ny; ++j) {
            for (int i = 0; i < nx; ++i) result.emplace_back(place(0, i), place(1, j), place(2, k));
        }
    }
    return result;
}

std::string encode_field(const Grid& grid, const std::vector<double>& values, spectrum::Quantity quantity,
                         const light::Facing& facing) {
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    std::string header = json{
        {"quantity", spectrum::name(quantity)},
        {"facing", light::to_text(facing)},
        {"counts", grid.counts},
        {"min_cm", in_cm(grid.min)},
        {"max_cm", in_cm(grid.max)},
        {"least", *least},
        {"most", *most}}.dump();
    header.append((4 - header.size() % 4) % 4, ' ');

    std::string body;
    body.reserve(4 + header.size() + 4 * values.size());
    append_little_endian(body, static_cast<std::uint32_t>(header.size()));
    body += header;
    for (const double value : values) {
        append_little_endian(body, std::bit_cast<std::uint32_t>(static_cast<float>(value)));
    }
    return body;
}

}  // namespace dapple::server
