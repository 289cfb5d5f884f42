#include "light/attenuation.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace dapple::light {

namespace {

using scene::Vec3;

struct Interval {
    double begin;
    double end;
    double length() const { return std::max(0.0, end - begin); }
};

// The part of the way a + t d, 0 <= t <= 1, between -half and half on every axis.
Interval inside_box(const Vec3& a, const Vec3& d, const Vec3& half) {
    Interval in{0, 1};
    for (int axis = 0; axis < 3; ++axis) {
        if (d[axis] == 0) {
            if (std::abs(a[axis]) > half[axis]) return {0, 0};
            continue;
        }
        const double t1 = (-half[axis] - a[axis]) / d[axis];
        const double t2 = (half[axis] - a[axis]) / d[axis];
        in.begin = std::max(in.begin, std::min(t1, t2));
        in.end = std::min(in.end, std::max(t1, t2));
    }
    return in;
}

// The part of the way a + t d, 0 <= t <= 1, inside the unit sphere.
Interval inside_unit_sphere(const Vec3& a, const Vec3& d) {
    const double dd = d.squaredNorm();
    if (dd == 0) return {0, 0};
    const double nearest = -a.dot(d) / dd;
    const double miss_squared = (a + nearest * d).squaredNorm();
    if (miss_squared >= 1) return {0, 0};
    const double half_chord = std::sqrt((1 - miss_squared) / dd);
    return {std::max(0.0, nearest - half_chord), std::min(1.0, nearest + half_chord)};
}

// Whether the way a + t d, 0 <= t <= 1, stays farther than `radius` from the origin: most ways pass most plants by, and
// turning a shape costs more than asking.
bool passes_by(const Vec3& a, const Vec3& d, double radius) {
    const double dd = d.squaredNorm();
    const double nearest = dd > 0 ? std::clamp(-a.dot(d) / dd, 0.0, 1.0) : 0;
    return (a + nearest * d).squaredNorm() > radius * radius * (1 + 1e-9);
}

Interval inside(const scene::BoxShape& shape, const Vec3& from, const Vec3& to) {
    const Vec3 a = from - shape.box.centre();
    if (passes_by(a, to - from, shape.box.half().norm())) return {0, 0};
    const scene::Rotation back = scene::turn(shape.turn).transpose();
    return inside_box(back * a, back * (to - from), shape.box.half());
}

Interval inside(const scene::EllipsoidShape& shape, const Vec3& from, const Vec3& to) {
    if (passes_by(from - shape.centre, to - from, shape.radii.maxCoeff())) return {0, 0};
    const scene::Rotation back = scene::turn(shape.turn).transpose();
    const Vec3 a = back * (from - shape.centre);
    const Vec3 d = back * (to - from);
    return inside_unit_sphere(a.cwiseQuotient(shape.radii), d.cwiseQuotient(shape.radii));
}

}  // namespace

double mesh_transmittance(const scene::Mesh& mesh, double wu, double wv, double wn) {
    const double cover = mesh.wire / mesh.pitch;
    const double n = std::abs(wn);
    // The shadow of a layer widens as 1/c; both layers are opaque in the plane of the mesh, where c is 0.
    const double open_u = n - cover * std::hypot(wu, wn);
    const double open_v = n - cover * std::hypot(wv, wn);
    if (n == 0 || open_u <= 0 || open_v <= 0) return 0;
    return (open_u / n) * (open_v / n);
}

std::optional<double> crossing(const scene::Screen& screen, const Vec3& from, const Vec3& to) {
    const int n = screen.normal_axis;
    const double travel = to[n] - from[n];
    if (travel == 0) return std::nullopt;
    const double t = (screen.box.min[n] - from[n]) / travel;
    if (!(t > 0 && t < 1)) return std::nullopt;
    for (const int axis : {(n + 1) % 3, (n + 2) % 3}) {
        const double x = from[axis] + t * (to[axis] - from[axis]);
        if (x < screen.box.min[axis] || x > screen.box.max[axis]) return std::nullopt;
    }
    return t;
}

bool is_spectral(const scene::Screen& screen) {
    return !screen.transmittance && std::holds_alternative<scene::Pane>(screen.kind);
}

double screen_transmittance_gray(const scene::Screen& screen, const Vec3& direction) {
    assert(!is_spectral(screen));
    if (screen.transmittance) return *screen.transmittance;
    const auto* mesh = std::get_if<scene::Mesh>(&screen.kind);
    if (mesh == nullptr) return 1;
    const int n = screen.normal_axis;
    return mesh_transmittance(*mesh, direction[(n + 1) % 3], direction[(n + 2) % 3], direction[n]);
}

double foliage_path(const scene::Foliage& foliage, const Vec3& from, const Vec3& to) {
    const Interval in = std::visit([&](const auto& shape) { return inside(shape, from, to); }, foliage.shape);
    return in.length() * (to - from).norm();
}

double foliage_transmittance(const scene::Foliage& foliage, const Vec3& from, const Vec3& to) {
    const double path = foliage_path(foliage, from, to);
    return path > 0 ? std::exp(-0.5 * foliage.leaf_area_density * path) : 1;
}

PaneTable::PaneTable(const scene::Pane& pane) {
    assert(pane.material.optics);
    const int steps = static_cast<int>(at_step_.size()) - 1;
    at_step_[0].setZero();  // along its plane a pane only reflects
    for (int i = 1; i <= steps; ++i) {
        const double cosine = static_cast<double>(i) / steps;
        at_step_[static_cast<std::size_t>(i)] =
            band_means(spectrum::pane_transmittance(*pane.material.optics, pane.thickness, cosine));
    }
}

Bands PaneTable::at(double cos_incidence) const {
    const int steps = static_cast<int>(at_step_.size()) - 1;
    const double x = std::clamp(std::abs(cos_incidence), 0.0, 1.0) * steps;
    const int below = std::min(static_cast<int>(x), steps - 1);
    const auto i = static_cast<std::size_t>(below);
    return at_step_[i] + (x - below) * (at_step_[i + 1] - at_step_[i]);
}

}  // namespace dapple::light
