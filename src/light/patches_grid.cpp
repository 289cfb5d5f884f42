#include "light/patches_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dapple::light {

namespace {

using scene::Vec3;

LampLine line_of(const scene::Lamp& lamp) {
    return std::visit(
        [&](const auto& shape) -> LampLine {
            if constexpr (requires { shape.along; }) {
                const Vec3 half = 0.5 * shape.length * shape.along;
                return {lamp.centre - half, lamp.centre + half};
            } else {
                return {lamp.centre, lamp.centre};
            }
        },
        lamp.shape);
}

double distance(const LampLine& line, const Vec3& point) {
    const Vec3 along = line.to - line.from;
    const double length_squared = along.squaredNorm();
    const double t =
        length_squared > 0 ? std::clamp((point - line.from).dot(along) / length_squared, 0.0, 1.0) : 0;
    return (point - line.from - t * along).norm();
}

}  // namespace

std::vector<LampLine> lamp_lines(const scene::Enclosure& enclosure) {
    std::vector<LampLine> lines;
    for (const auto& lamp : enclosure.lamps) lines.push_back(line_of(lamp));
    return lines;
}

double distance_to_lamps(const std::vector<LampLine>& lamps, const Vec3& point) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const auto& lamp : lamps) nearest = std::min(nearest, distance(lamp, point));
    return nearest;
}

std::vector<double> cuts(double length, double edge, const std::vector<Footprint>& footprints,
                         double finest) {
    const auto step_at = [&](double x) {
        double step = edge;
        for (const auto& f : footprints) {
            const double away = std::min(std::abs(x - f.from), std::abs(x - f.to));
            step = std::min(step, std::max(finest, 0.5 * std::hypot(away, f.height)));
        }
        return step;
    };
    std::vector<double> marks = {0};
    while (marks.back() < length) {
        // The step wanted half a step ahead lets the cells grow and shrink alike on both sides of a lamp.
        const double ahead = step_at(marks.back() + 0.5 * step_at(marks.back()));
        marks.push_back(marks.back() + std::max(ahead, length * 1e-4));
    }
    for (double& mark : marks) mark /= marks.back();
    return marks;
}

}  // namespace dapple::light
