#include "husbandry/surface.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

namespace dapple::husbandry {

namespace {

using scene::Vec3;
using std::numbers::pi;

std::vector<Surface> sides_of(const scene::BoxShape& shape) {
    const scene::Rotation turn = scene::turn(shape.turn);
    const Vec3 centre = shape.box.centre();
    const Vec3 half = shape.box.half();
    std::vector<Surface> sides;
    for (int axis = 0; axis < 3; ++axis) {
        for (const double sign : {-1.0, 1.0}) {
            const int a = (axis + 1) % 3;
            const int b = (axis + 2) % 3;
            Vec3 corner = -half;
            corner[axis] = sign * half[axis];
            sides.push_back(rectangle(centre + turn * corner, turn.col(a) * 2 * half[a],
                                      turn.col(b) * 2 * half[b], turn.col(axis) * sign));
        }
    }
    return sides;
}

// The mantle, unrolled, and the two ends.
std::vector<Surface> sides_of(const scene::CylinderShape& shape) {
    const Vec3 middle = 0.5 * (shape.from + shape.to);
    const Vec3 axis = scene::turn(shape.turn) * (shape.to - shape.from);
    const double length = axis.norm();
    const double radius = shape.diameter / 2;
    if (length == 0 || radius == 0) return {};
    const Vec3 along = axis / length;
    const Vec3 p = along.unitOrthogonal();
    const Vec3 q = along.cross(p);
    const auto outward = [=](double u) -> Vec3 {
        return std::cos(2 * pi * u) * p + std::sin(2 * pi * u) * q;
    };
    std::vector<Surface> sides;
    sides.push_back({2 * pi * radius * length, 2 * pi * radius, length, [=](double u, double v) {
                         const Vec3 n = outward(u);
                         return SurfacePoint{middle + (v - 0.5) * axis + radius * n, n};
                     }});
    for (const double sign : {-1.0, 1.0}) {
        sides.push_back({pi * radius * radius, 2 * radius, pi * radius / 2, [=](double u, double v) {
                             // Equal areas: the radius grows with the square root of v.
                             const Vec3 rim = radius * std::sqrt(v) * outward(u);
                             return SurfacePoint{middle + sign * 0.5 * axis + rim, sign * along};
                         }});
    }
    return sides;
}

// A sphere in equal areas (Archimedes: equal heights have equal areas), stretched to the radii. An area
// element of the unit sphere at n becomes abc |(n_x/a, n_y/b, n_z/c)| times as large.
std::vector<Surface> sides_of(const scene::EllipsoidShape& shape) {
    const scene::Rotation turn = scene::turn(shape.turn);
    const Vec3 radii = shape.radii;
    if (radii.minCoeff() <= 0) return {};
    const auto on_sphere = [](double u, double v) -> Vec3 {
        const double z = 2 * v - 1;
        const double r = std::sqrt(std::max(0.0, 1 - z * z));
        return {r * std::cos(2 * pi * u), r * std::sin(2 * pi * u), z};
    };
    const auto growth = [=](const Vec3& n) { return radii.prod() * n.cwiseQuotient(radii).norm(); };
    double mean = 0;
    constexpr int steps = 64;
    for (int i = 0; i < steps; ++i) {
        for (int j = 0; j < steps; ++j) mean += growth(on_sphere((i + 0.5) / steps, (j + 0.5) / steps));
    }
    mean /= steps * steps;
    const double width = 2 * pi * std::max(radii.x(), radii.y());
    const double area = 4 * pi * mean;
    const Vec3 centre = shape.centre;
    return {{area, width, area / width, [=](double u, double v) {
                 const Vec3 n = on_sphere(u, v);
                 return SurfacePoint{centre + turn * n.cwiseProduct(radii),
                                     (turn * n.cwiseQuotient(radii)).normalized(), growth(n) / mean};
             }}};
}

// All triangles in a row: u goes along the row by area and, with v, over the triangle it falls into.
std::vector<Surface> sides_of(const scene::MeshShape& mesh) {
    struct Row {
        scene::MeshShape mesh;
        std::vector<double> up_to;  // area of this triangle and all before it
    };
    auto row = std::make_shared<Row>(Row{mesh, {}});
    const auto corner = [](const Row& r, std::size_t t, std::size_t i) -> const Vec3& {
        return r.mesh.vertices[static_cast<std::size_t>(r.mesh.triangles[t][i])];
    };
    double area = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3& a = corner(*row, t, 0);
        area += 0.5 * (corner(*row, t, 1) - a).cross(corner(*row, t, 2) - a).norm();
        row->up_to.push_back(area);
    }
    if (area <= 0) return {};
    const double edge = std::sqrt(area);
    return {{area, edge, edge, [=](double u, double v) {
                 const auto it = std::upper_bound(row->up_to.begin(), row->up_to.end(), u * area);
                 const auto t =
                     static_cast<std::size_t>(std::min(it - row->up_to.begin(), std::ssize(row->up_to) - 1));
                 const double before = t == 0 ? 0 : row->up_to[t - 1];
                 const double own = std::max(row->up_to[t] - before, 1e-300);
                 const double s = std::sqrt(std::clamp((u * area - before) / own, 0.0, 1.0));
                 const Vec3& a = corner(*row, t, 0);
                 const Vec3 ab = corner(*row, t, 1) - a;
                 const Vec3 ac = corner(*row, t, 2) - a;
                 return SurfacePoint{a + s * ((1 - v) * ab + v * ac), ab.cross(ac).normalized()};
             }}};
}

}  // namespace

Surface rectangle(const Vec3& corner, const Vec3& u, const Vec3& v, const Vec3& normal) {
    return {u.norm() * v.norm(), u.norm(), v.norm(), [=](double s, double t) {
                return SurfacePoint{corner + s * u + t * v, normal};
            }};
}

std::vector<Surface> surfaces_of(const scene::Furniture& furniture) {
    return std::visit([](const auto& shape) { return sides_of(shape); }, furniture.shape);
}

}  // namespace dapple::husbandry
