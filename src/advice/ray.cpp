#include "advice/ray.h"

namespace dapple::advice {

using scene::Vec3;

namespace {

// The farthest a thing is moved in one fix: beyond this it is another enclosure. Our judgement.
constexpr double farthest_lift = 0.4;
constexpr double farthest_slide = 0.6;

}  // namespace

Change Ray::at(double length) const {
    Change longer = change;
    longer.by = length * change.by;
    return longer;
}

std::vector<Ray> rays_of(const scene::Enclosure& enclosure, const Effort& effort) {
    std::vector<Ray> rays;
    for (const scene::Furniture& piece : enclosure.furniture) {
        if (!piece.perch) continue;
        for (const Vec3& way : {Vec3(Vec3::UnitZ()), Vec3(-Vec3::UnitZ())}) {
            rays.push_back(
                {{Change::Kind::move_furniture, piece.id, "", way}, farthest_lift, effort.move_furniture});
        }
    }
    for (const scene::Lamp& lamp : enclosure.lamps) {
        for (int axis = 0; axis < 3; ++axis) {
            const double farthest = axis == 2 ? farthest_lift : farthest_slide;
            for (const double sign : {1.0, -1.0}) {
                rays.push_back({{Change::Kind::move_lamp, lamp.id, "", sign * Vec3::Unit(axis)},
                                farthest,
                                effort.move_lamp});
            }
        }
    }
    for (std::size_t i = 0; i < enclosure.lamps.size(); ++i) {
        for (std::size_t j = i + 1; j < enclosure.lamps.size(); ++j) {
            rays.push_back({{Change::Kind::swap_lamps, enclosure.lamps[i].id, enclosure.lamps[j].id},
                            0,
                            effort.swap_lamps});
        }
    }
    for (const scene::Screen& screen : enclosure.screens) {
        rays.push_back({{Change::Kind::remove_screen, screen.id, ""}, 0, effort.remove_screen});
    }
    return rays;
}

}  // namespace dapple::advice
