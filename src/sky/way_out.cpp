#include "sky/way_out.h"

#include <algorithm>
#include <cmath>

#include "light/attenuation.h"

namespace dapple::sky {

using scene::Vec3;

namespace {

constexpr std::uint32_t cosine_steps = 128;

scene::Screen pane_of_wall(const scene::Enclosure& enclosure, scene::Face face,
                           const spectrum::Material& material) {
    // Faces in their order: z = 0, x = 0, x = max, y = 0, y = max, z = max.
    constexpr std::array axis = {2, 0, 0, 1, 1, 2};
    constexpr std::array far = {false, false, true, false, true, true};
    const auto i = static_cast<std::size_t>(face);
    scene::Screen screen;
    screen.id = std::string(scene::name(face)) + " wall";
    screen.normal_axis = axis[i];
    screen.box = {Vec3::Zero(), enclosure.size};
    screen.box.min[axis[i]] = screen.box.max[axis[i]] = far[i] ? enclosure.size[axis[i]] : 0;
    screen.kind = scene::Pane{material, clear_wall_thickness};
    return screen;
}

scene::Enclosure with_clear_walls_as_panes(scene::Enclosure enclosure) {
    for (const scene::Face face : scene::faces) {
        auto& wall = enclosure.walls[static_cast<std::size_t>(face)];
        if (!wall || !wall->optics || face == scene::Face::floor) continue;
        enclosure.screens.push_back(pane_of_wall(enclosure, face, *wall));
        wall.reset();
    }
    return enclosure;
}

// The face through which a ray leaves the box, and how far away.
std::pair<scene::Face, double> exit_of(const Vec3& size, const Vec3& from, const Vec3& direction) {
    constexpr std::array near_face = {scene::Face::left, scene::Face::front, scene::Face::floor};
    constexpr std::array far_face = {scene::Face::right, scene::Face::back, scene::Face::top};
    std::pair<scene::Face, double> first{scene::Face::top, 1e30};
    for (int axis = 0; axis < 3; ++axis) {
        if (direction[axis] == 0) continue;
        const auto i = static_cast<std::size_t>(axis);
        const bool onward = direction[axis] > 0;
        const double distance = ((onward ? size[axis] : 0.0) - from[axis]) / direction[axis];
        if (distance < first.second) first = {onward ? far_face[i] : near_face[i], std::max(0.0, distance)};
    }
    return first;
}

}  // namespace

WaysOut::WaysOut(const scene::Enclosure& enclosure)
    : enclosure_(with_clear_walls_as_panes(enclosure)),
      furniture_(enclosure_.furniture),
      kinds_{{{}, 0}},
      crossings_{{}} {
    panes_ = std::any_of(enclosure_.screens.begin(), enclosure_.screens.end(), light::is_spectral);
}

Way WaysOut::along(const Vec3& point, const Vec3& direction) const {
    const auto [face, distance] = exit_of(enclosure_.size, point, direction);
    if (enclosure_.walls[static_cast<std::size_t>(face)]) return {};
    const Vec3 start = point + light::surface_lift * direction;
    if (!furniture_.empty() && furniture_.first(start, direction, distance + 1e-3)) return {};
    const Vec3 outside = point + (distance + 1) * direction;  // beyond every screen on a wall
    double through = 1;
    Crossings crossed;
    for (std::size_t i = 0; i < enclosure_.screens.size(); ++i) {
        const scene::Screen& screen = enclosure_.screens[i];
        if (!light::crossing(screen, point, outside)) continue;
        if (!light::is_spectral(screen)) {
            through *= light::screen_transmittance_gray(screen, direction);
            if (through <= 0) return {};
            continue;
        }
        const double cosine = std::abs(direction[screen.normal_axis]);
        const auto step = static_cast<std::uint32_t>(std::lround(cosine * cosine_steps));
        crossed.push_back(static_cast<std::uint32_t>(i) * (cosine_steps + 1) + step);
    }
    for (const scene::Foliage& leaves : enclosure_.foliage) {
        through *= light::foliage_transmittance(leaves, point, outside);
    }
    return {static_cast<float>(through), crossed.empty() ? 0U : kind_of(crossed)};
}

std::uint32_t WaysOut::kind_of(const Crossings& crossed) const {
    const std::lock_guard lock(mutex_);
    const auto [it, fresh] = kinds_.emplace(crossed, static_cast<std::uint32_t>(crossings_.size()));
    if (fresh) crossings_.push_back(crossed);
    return it->second;
}

const spectrum::Spectrum& WaysOut::pane_at_step(std::uint32_t crossing) const {
    const auto known = pane_spectra_.find(crossing);
    if (known != pane_spectra_.end()) return known->second;
    const auto& pane = std::get<scene::Pane>(enclosure_.screens[crossing / (cosine_steps + 1)].kind);
    const std::uint32_t step = crossing % (cosine_steps + 1);
    auto leaves = step == 0 ? spectrum::constant(0)  // grazing light is reflected
                            : spectrum::pane_transmittance(*pane.material.optics, pane.thickness,
                                                           static_cast<double>(step) / cosine_steps);
    return pane_spectra_.emplace(crossing, std::move(leaves)).first->second;
}

Eigen::ArrayXd WaysOut::transmittance(std::uint32_t kind, Eigen::Index first, Eigen::Index count) const {
    const std::lock_guard lock(mutex_);
    Eigen::ArrayXd product = Eigen::ArrayXd::Ones(count);
    for (const std::uint32_t crossing : crossings_[kind])
        product *= pane_at_step(crossing).segment(first, count);
    return product;
}

}  // namespace dapple::sky
