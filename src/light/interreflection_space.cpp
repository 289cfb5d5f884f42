#include "light/interreflection_space.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dapple::light {

namespace {

using scene::Vec3;

struct Exit {
    double distance;
    scene::Face face;
};

// Where a ray leaves the box it starts in.
Exit exit_of(const scene::Box& box, const Vec3& origin, const Vec3& direction) {
    using scene::Face;
    constexpr std::array<std::array<Face, 2>, 3> face = {
        {{Face::left, Face::right}, {Face::front, Face::back}, {Face::floor, Face::top}}};
    Exit exit{std::numeric_limits<double>::infinity(), Face::top};
    for (int axis = 0; axis < 3; ++axis) {
        const double d = direction[axis];
        if (d == 0) continue;
        const double distance = ((d > 0 ? box.max : box.min)[axis] - origin[axis]) / d;
        if (distance < exit.distance) exit = {distance, face[static_cast<std::size_t>(axis)][d > 0 ? 1 : 0]};
    }
    exit.distance = std::max(exit.distance, 0.0);
    return exit;
}

}  // namespace

Space::Space(const scene::Enclosure& enclosure, const Patches& patches)
    : patches_(patches), foliage_(enclosure.foliage) {
    for (const auto& lamp : enclosure.lamps) {
        if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) {
            if (tube->diameter <= 0) continue;
            const Vec3 half = 0.5 * tube->length * tube->along;
            const scene::CylinderShape body{lamp.centre - half, lamp.centre + half, tube->diameter,
                                            Vec3::Zero()};
            tubes_.push_back(make_body(body, 0));
        } else if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) {
            if (spot->diameter > 0) discs_.push_back({lamp.centre, spot->aim, spot->diameter / 2});
        }
    }
    for (const auto& screen : enclosure.screens) {
        if (is_spectral(screen)) {
            panes_.push_back({screen, PaneTable(std::get<scene::Pane>(screen.kind))});
        } else {
            gray_screens_.push_back(screen);
        }
    }
}

bool Space::meets_lamp(const Vec3& origin, const Vec3& direction, double reach) const {
    for (const Body& tube : tubes_) {
        const auto crossing = first_crossing(tube, origin, direction, 0, reach);
        if (crossing && !crossing->inside) return true;
    }
    return std::any_of(discs_.begin(), discs_.end(), [&](const Disc& disc) {
        const double approach = direction.dot(disc.normal);
        if (approach == 0) return false;
        const double distance = (disc.centre - origin).dot(disc.normal) / approach;
        if (distance <= 0 || distance >= reach) return false;
        return (origin + distance * direction - disc.centre).squaredNorm() < disc.radius * disc.radius;
    });
}

Bands Space::transmittance(const Vec3& from, const Vec3& to, const Vec3& direction) const {
    double gray = 1;
    for (const auto& screen : gray_screens_) {
        if (crossing(screen, from, to)) gray *= screen_transmittance_gray(screen, direction);
    }
    for (const auto& leaves : foliage_) gray *= foliage_transmittance(leaves, from, to);
    Bands through = Bands::Constant(gray);
    for (const auto& pane : panes_) {
        if (crossing(pane.screen, from, to)) through *= pane.table.at(direction[pane.screen.normal_axis]);
    }
    return through;
}

Meeting Space::follow(const Vec3& origin, const Vec3& direction) const {
    Meeting meeting;
    const Exit exit = exit_of(patches_.box(), origin, direction);
    const auto furniture = patches_.rays().first(origin, direction, exit.distance);
    const double distance = furniture ? furniture->distance : exit.distance;
    if (meets_lamp(origin, direction, distance)) return meeting;
    meeting.point = origin + distance * direction;
    if (furniture) {
        meeting.patch = patches_.at_furniture(*furniture, meeting.point);
        if (meeting.patch < 0) return meeting;
        meeting.normal = patches_.normal_at_furniture(*furniture, meeting.point);
    } else {
        meeting.patch = patches_.at_wall(exit.face, meeting.point);
        if (meeting.patch < 0) return meeting;
        meeting.normal = Patches::normal_at_wall(exit.face);
    }
    meeting.through = transmittance(origin, meeting.point, direction);
    return meeting;
}

}  // namespace dapple::light
