#include "advice/way.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "advice/lamps.h"
#include "advice/solid.h"

namespace dapple::advice {

using scene::Enclosure;
using scene::Vec3;
using Kind = Change::Kind;

namespace {

// The farthest a thing is moved in one fix: beyond this it is another enclosure. Our judgement, as are all amounts.
constexpr double farthest_lift = 0.4;
constexpr double farthest_slide = 0.6;
constexpr double coarse_step = 0.04;
constexpr double centimetre = 0.01;
constexpr double degree = std::numbers::pi / 180;

// Meshes sold by the metre, fine to wide, from memory.
constexpr scene::Mesh meshes[] = {{0.0025, 0.0005}, {0.004, 0.0006}, {0.0064, 0.0007}, {0.0127, 0.001}};

std::vector<double> steps(double first, double last, double step) {
    std::vector<double> all;
    const int count = static_cast<int>(std::floor((last - first) / step + 1e-9));
    for (int i = 0; i <= count; ++i) all.push_back(first + i * step);
    return all;
}

Way moving(Kind kind, const std::string& id, const Vec3& way, double farthest) {
    return {{kind, id, "", way}, Way::Measure::length, steps(coarse_step, farthest, coarse_step), centimetre};
}

void add_furniture_ways(const Enclosure& enclosure, std::vector<Way>& ways) {
    for (const scene::Furniture& piece : enclosure.furniture) {
        if (piece.perch) {
            for (const double sign : {1.0, -1.0}) {
                ways.push_back(moving(Kind::move_furniture, piece.id, sign * Vec3::UnitZ(), farthest_lift));
            }
        }
        // What stands on something else stays on it.
        constexpr double on_the_floor = 0.01;
        if (bounds(solid_of(piece)).min.z() > on_the_floor) continue;
        for (const int axis : {0, 1}) {
            for (const double sign : {1.0, -1.0}) {
                ways.push_back(
                    moving(Kind::move_furniture, piece.id, sign * Vec3::Unit(axis), farthest_slide));
            }
        }
    }
}

bool is_rod(const scene::Lamp& lamp) {
    return !std::holds_alternative<scene::Spot>(lamp.shape);
}

void add_lamp_ways(const Enclosure& enclosure, std::vector<Way>& ways) {
    for (const scene::Lamp& lamp : enclosure.lamps) {
        for (int axis = 0; axis < 3; ++axis) {
            const double farthest = axis == 2 ? farthest_lift : farthest_slide;
            for (const double sign : {1.0, -1.0}) {
                ways.push_back(moving(Kind::move_lamp, lamp.id, sign * Vec3::Unit(axis), farthest));
            }
        }
        const auto* tube = std::get_if<scene::Tube>(&lamp.shape);
        const bool all_round = tube != nullptr && tube->forward_power < 0;
        for (int axis = 0; axis < 2 && !all_round; ++axis) {
            for (const double sign : {1.0, -1.0}) {
                const Change tilt = {Kind::tilt_lamp, lamp.id, "", sign * Vec3::Unit(axis)};
                if (!changed(enclosure, tilt)) continue;
                ways.push_back(
                    {tilt, Way::Measure::angle, steps(10 * degree, 50 * degree, 10 * degree), 5 * degree});
            }
        }
        if (can_be_dimmed(lamp)) {
            ways.push_back({{Kind::dim_lamp, lamp.id, ""},
                            Way::Measure::factor,
                            {0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2},
                            0});
        }
        if (lamp.age_factor < 1) ways.push_back({{Kind::renew_lamp, lamp.id, ""}});
    }
    for (std::size_t i = 0; i < enclosure.lamps.size(); ++i) {
        for (std::size_t j = i + 1; j < enclosure.lamps.size(); ++j) {
            ways.push_back({{Kind::swap_lamps, enclosure.lamps[i].id, enclosure.lamps[j].id}});
        }
    }
}

void add_screen_ways(const Enclosure& enclosure, std::vector<Way>& ways) {
    for (const scene::Screen& screen : enclosure.screens) {
        ways.push_back({{Kind::remove_screen, screen.id, ""}});
        const auto* mesh = std::get_if<scene::Mesh>(&screen.kind);
        if (mesh == nullptr) continue;
        for (const scene::Mesh& other : meshes) {
            constexpr double noticeable = 0.05;
            if (std::abs(open_share(other) - open_share(*mesh)) < noticeable) continue;
            Change change = {Kind::replace_screen, screen.id, ""};
            change.mesh = other;
            ways.push_back({change});
        }
    }
    for (const scene::Foliage& plant : enclosure.foliage) {
        ways.push_back({{Kind::thin_foliage, plant.id, ""},
                        Way::Measure::factor,
                        {0.8, 0.6, 0.4, 0.3, 0.2, 0.1, 0.05},
                        0});
    }
}

// A lamp is bought where its use is another's, or for a spot that has none above it.
void add_bought_lamps(const Enclosure& enclosure, std::vector<Way>& ways) {
    for (const LampModel& model : lamp_models()) {
        for (const scene::Lamp& lamp : enclosure.lamps) {
            const bool same_use = gives_uv(lamp) == model.uv && gives_heat(lamp) == model.heat;
            if (!same_use || lamp.shape.index() != model.lamp.shape.index()) continue;
            ways.push_back({{Kind::replace_lamp, lamp.id, model.id}});
        }
    }
    const std::string id = fresh_id(enclosure, "added-lamp");
    for (const LampModel& model : lamp_models()) {
        const double half = is_rod(model.lamp) ? std::visit(
                                                     [](const auto& shape) {
                                                         if constexpr (requires { shape.length; })
                                                             return 0.5 * shape.length;
                                                         return 0.0;
                                                     },
                                                     model.lamp.shape) +
                                                     0.005
                                               : 0.06;
        if (2 * half > enclosure.size.x()) continue;
        for (const scene::Place& spot : enclosure.spots) {
            if (spot.role != scene::Role::bask) continue;
            Vec3 place = spot.position;
            place.x() = std::clamp(place.x(), half, enclosure.size.x() - half);
            const double lowest = std::ceil((place.z() + model.safe_distance) / centimetre) * centimetre;
            auto heights = steps(lowest, std::max(lowest, enclosure.size.z() - 0.04), coarse_step);
            // From the top down: a lamp is hung as high as it will do.
            std::reverse(heights.begin(), heights.end());
            ways.push_back(
                {{Kind::add_lamp, id, model.id, place}, Way::Measure::height, heights, centimetre});
        }
    }
}

void add_shade_ways(const Enclosure& enclosure, std::vector<Way>& ways) {
    constexpr double height = 0.12;
    const Vec3 size = enclosure.size;
    if (size.z() < 2 * height) return;
    std::vector<Vec3> places;
    for (const scene::Place& spot : enclosure.spots) {
        if (spot.role == scene::Role::retreat) places.push_back(spot.position);
    }
    for (const double x : {0.0, 1.0}) {
        for (const double y : {0.0, 1.0}) places.emplace_back(x * size.x(), y * size.y(), 0.0);
    }
    const std::string id = fresh_id(enclosure, "added-roof");
    const auto half = std::get<scene::BoxShape>(shade_at(Vec3::Zero(), id, size).shape).box.half();
    for (const Vec3& place : places) {
        const Vec3 centre(std::clamp(place.x(), half.x(), size.x() - half.x()),
                          std::clamp(place.y(), half.y(), size.y() - half.y()),
                          std::min(place.z() + height, size.z() - half.z()));
        ways.push_back({{Kind::add_shade, id, "", centre}});
    }
}

}  // namespace

Change Way::at(double amount) const {
    Change exact = change;
    if (measure == Measure::length || measure == Measure::angle) exact.by = amount * change.by;
    if (measure == Measure::factor) exact.factor = amount;
    if (measure == Measure::height) exact.by.z() = amount;
    return exact;
}

std::vector<Way> ways_of(const Enclosure& enclosure, const FixOptions& options) {
    std::vector<Way> ways;
    add_furniture_ways(enclosure, ways);
    add_lamp_ways(enclosure, ways);
    add_screen_ways(enclosure, ways);
    add_shade_ways(enclosure, ways);
    if (options.buy) add_bought_lamps(enclosure, ways);
    return ways;
}

bool can_be_paired(const Way& a, const Way& b) {
    if (a.change.kind != b.change.kind) {
        // A thing that is taken out or exchanged is not changed besides, nor is one that is added twice.
        const bool one_thing = a.change.id == b.change.id;
        const bool moves = a.measure == Way::Measure::length || b.measure == Way::Measure::length;
        return !one_thing || moves;
    }
    if (a.change.kind == Kind::add_lamp || a.change.kind == Kind::add_shade) return false;
    if (a.change.id != b.change.id) return a.change.kind != Kind::swap_lamps;
    return a.measure == Way::Measure::length && std::abs(a.change.by.dot(b.change.by)) < 1e-9;
}

std::string fresh_id(const Enclosure& enclosure, const std::string& wanted) {
    const auto taken = [&](const std::string& id) {
        const auto has = [&](const auto& things) {
            return std::any_of(things.begin(), things.end(), [&](const auto& t) { return t.id == id; });
        };
        return has(enclosure.lamps) || has(enclosure.screens) || has(enclosure.furniture) ||
               has(enclosure.foliage) || has(enclosure.spots);
    };
    std::string id = wanted;
    for (int i = 2; taken(id); ++i) id = wanted + "-" + std::to_string(i);
    return id;
}

}  // namespace dapple::advice
