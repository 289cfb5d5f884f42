// One quantity on a regular grid, asked for by a view and answered in a compact form.
//
// Asked: {"enclosure": {...}, "grid": {"min_cm": [x,y,z], "max_cm": [x,y,z], "counts": [nx,ny,nz]},
//         "quantity": "uvi", "facing": "aimed", "bounces": -1}
// The grid's points lie at min + i (max - min) / (n - 1) along each axis, at min where n is 1.
//
// Answered (application/vnd.dapple.field): a little-endian uint32 n; n bytes of JSON header, padded with
// spaces so that the numbers start at a multiple of four: {"quantity", "facing", "counts", "min_cm",
// "max_cm", "least", "most"}; then nx ny nz little-endian float32, x fastest, z slowest.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "light/field.h"
#include "problem/problem.h"

namespace dapple::server {

inline constexpr int most_grid_points = 200'000;

struct Grid {
    scene::Vec3 min;  // m
    scene::Vec3 max;  // m
    std::array<int, 3> counts;
};

Expected<Grid> parse_grid(const nlohmann::json& grid);
std::vector<scene::Vec3> points(const Grid& grid);

std::string encode_field(const Grid& grid, const std::vector<double>& values, spectrum::Quantity quantity,
                         const light::Facing& facing);

}  // namespace dapple::server
