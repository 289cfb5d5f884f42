#include "server/numbers.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace dapple::server {

using nlohmann::json;

std::string shown(const json& value) {
    if (value.is_null()) return "nothing";
    std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
    if (text.size() > 60) text = text.substr(0, 57) + "...";
    return text;
}

Expected<scene::Vec3> parse_point(const json& point_cm, const std::string& place) {
    constexpr double furthest_cm = 1e4;
    const Problem problem{"request", place, shown(point_cm),
                          "three numbers in cm, each between -10000 and 10000"};
    if (!point_cm.is_array() || point_cm.size() != 3) return refuse(problem);
    scene::Vec3 point;
    for (int axis = 0; axis < 3; ++axis) {
        const json& value = point_cm[static_cast<std::size_t>(axis)];
        if (!value.is_number()) return refuse(problem);
        const double cm = value.get<double>();
        if (!std::isfinite(cm) || std::abs(cm) > furthest_cm) return refuse(problem);
        point[axis] = 0.01 * cm;
    }
    return point;
}

std::array<double, 3> in_cm(const scene::Vec3& point) {
    // Rounded to a micrometre, so that 0.22 m reads 22 cm.
    const auto cm = [](double m) { return std::round(m * 1e6) / 1e4; };
    return {cm(point.x()), cm(point.y()), cm(point.z())};
}

}  // namespace dapple::server
