// Points of a request, which are in centimetres, and of the engine, which are in metres.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "problem/problem.h"
#include "scene/geometry.h"

namespace dapple::server {

// What stands in a request, shortened for a message.
std::string shown(const nlohmann::json& value);

// [x, y, z] in cm, finite and within 100 m of the origin, as a point in metres.
Expected<scene::Vec3> parse_point(const nlohmann::json& point_cm, const std::string& place);

std::array<double, 3> in_cm(const scene::Vec3& point);

}  // namespace dapple::server
