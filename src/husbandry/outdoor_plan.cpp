#include "husbandry/outdoor_plan.h"

#include <algorithm>
#include <cmath>

#include "husbandry/share.h"
#include "husbandry/solid.h"

namespace dapple::husbandry {

using scene::Vec3;

namespace {

constexpr double off_wall = 0.001;  // m: a receiver cannot stand in the wall itself
constexpr double half_the_beam = 0.5;

std::size_t places_along(double length, double spacing) {
    return std::max<std::size_t>(2, static_cast<std::size_t>(std::lround(length / spacing)) + 1);
}

}  // namespace

OutdoorPlan empty_plan(const scene::Enclosure& enclosure, const PlanOptions& options) {
    OutdoorPlan plan;
    plan.band = options.band;
    const double z = std::clamp(options.height, off_wall, enclosure.size.z() - off_wall);
    plan.min = {off_wall, off_wall, z};
    plan.max = {enclosure.size.x() - off_wall, enclosure.size.y() - off_wall, z};
    double spacing = options.spacing;
    do {
        plan.columns = places_along(enclosure.size.x(), spacing);
        plan.rows = places_along(enclosure.size.y(), spacing);
        spacing *= 1.05;
    } while (plan.columns * plan.rows > options.most_points && plan.columns + plan.rows > 4);

    std::vector<Solid> solids;
    for (const auto& piece : enclosure.furniture) solids.emplace_back(piece);
    const auto between = [](double from, double to, std::size_t i, std::size_t n) {
        return from + (to - from) * static_cast<double>(i) / static_cast<double>(n - 1);
    };
    for (std::size_t row = 0; row < plan.rows; ++row) {
        for (std::size_t column = 0; column < plan.columns; ++column) {
            const Vec3 point(between(plan.min.x(), plan.max.x(), column, plan.columns),
                             between(plan.min.y(), plan.max.y(), row, plan.rows), z);
            plan.points.push_back(point);
            const bool filled =
                std::any_of(solids.begin(), solids.end(), [&](const Solid& s) { return s.holds(point); });
            plan.free.push_back(filled ? 0 : 1);
        }
    }
    return plan;
}

void OutdoorPlan::add(sky::Instant time, std::vector<double> uvi_here, std::vector<double> sun_here) {
    times.push_back(time);
    share_in_sun.push_back(share_where(sun_here, free, [](double s) { return s >= half_the_beam; }));
    if (band) {
        share_in_band.push_back(
            share_where(uvi_here, free, [&](double v) { return v >= band->low && v <= band->high; }));
    }
    uvi.push_back(std::move(uvi_here));
    sun_share.push_back(std::move(sun_here));
}

}  // namespace dapple::husbandry
