#include "advice/solid.h"

#include <ccd/ccd.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace dapple::advice {

using scene::Rotation;
using scene::Vec3;

namespace {

constexpr double screen_thickness = 0.001;

Solid box_solid(const Vec3& centre, const Vec3& half, const Rotation& frame) {
    return {[=](const Vec3& direction) -> Vec3 {
                const Vec3 local = frame.transpose() * direction;
                const Vec3 corner = (local.array() < 0).select(-half, half);
                return centre + frame * corner;
            },
            centre};
}

Solid ellipsoid_solid(const Vec3& centre, const Vec3& radii, const Rotation& frame) {
    return {[=](const Vec3& direction) -> Vec3 {
                const Vec3 scaled = radii.cwiseProduct(frame.transpose() * direction);
                if (scaled.norm() == 0) return centre;
                return centre + frame * radii.cwiseProduct(scaled.normalized());
            },
            centre};
}

// A disc swept along its axis by half a length each way; a disc alone where that is zero.
Solid cylinder_solid(const Vec3& centre, const Vec3& axis, double half_length, double radius) {
    return {[=](const Vec3& direction) -> Vec3 {
                const double along = direction.dot(axis);
                const Vec3 across = direction - along * axis;
                const double length = across.norm();
                Vec3 point = centre + std::copysign(half_length, along) * axis;
                if (length > 1e-12) point += across * (radius / length);
                return point;
            },
            centre};
}

Solid hull_solid(const std::vector<Vec3>& vertices) {
    Vec3 centre = Vec3::Zero();
    for (const Vec3& vertex : vertices) centre += vertex / static_cast<double>(vertices.size());
    return {[vertices](const Vec3& direction) -> Vec3 {
                return *std::max_element(vertices.begin(), vertices.end(), [&](const Vec3& a, const Vec3& b) {
                    return a.dot(direction) < b.dot(direction);
                });
            },
            centre};
}

Solid solid_of_shape(const scene::BoxShape& shape) {
    return box_solid(shape.box.centre(), shape.box.half(), scene::turn(shape.turn));
}

Solid solid_of_shape(const scene::CylinderShape& shape) {
    const Vec3 axis = scene::turn(shape.turn) * (shape.to - shape.from);
    return cylinder_solid(0.5 * (shape.from + shape.to), axis.normalized(), 0.5 * axis.norm(),
                          0.5 * shape.diameter);
}

Solid solid_of_shape(const scene::EllipsoidShape& shape) {
    return ellipsoid_solid(shape.centre, shape.radii, scene::turn(shape.turn));
}

Solid solid_of_shape(const scene::MeshShape& shape) {
    return hull_solid(shape.vertices);
}

Solid lamp_solid(const Vec3& centre, const scene::Tube& tube) {
    return cylinder_solid(centre, tube.along, 0.5 * tube.length, 0.5 * tube.diameter);
}

Solid lamp_solid(const Vec3& centre, const scene::Spot& spot) {
    return cylinder_solid(centre, spot.aim, 0, 0.5 * spot.diameter);
}

Solid lamp_solid(const Vec3& centre, const scene::Bar& bar) {
    return cylinder_solid(centre, bar.along, 0.5 * bar.length, 0);
}

double distance_to_rod(const Vec3& from_centre, const Vec3& along, double length, double radius) {
    const double s = std::clamp(from_centre.dot(along), -0.5 * length, 0.5 * length);
    return std::max(0.0, (from_centre - s * along).norm() - radius);
}

double surface_distance(const Vec3& from_centre, const scene::Tube& tube) {
    return distance_to_rod(from_centre, tube.along, tube.length, 0.5 * tube.diameter);
}

double surface_distance(const Vec3& from_centre, const scene::Bar& bar) {
    return distance_to_rod(from_centre, bar.along, bar.length, 0);
}

double surface_distance(const Vec3& from_centre, const scene::Spot& spot) {
    const double height = from_centre.dot(spot.aim);
    const double beyond_rim = (from_centre - height * spot.aim).norm() - 0.5 * spot.diameter;
    return std::hypot(height, std::max(0.0, beyond_rim));
}

void ccd_support(const void* solid, const ccd_vec3_t* direction, ccd_vec3_t* out) {
    const Vec3 point =
        static_cast<const Solid*>(solid)->support(Vec3(direction->v[0], direction->v[1], direction->v[2]));
    ccdVec3Set(out, point.x(), point.y(), point.z());
}

void ccd_centre(const void* solid, ccd_vec3_t* out) {
    const Vec3& centre = static_cast<const Solid*>(solid)->centre;
    ccdVec3Set(out, centre.x(), centre.y(), centre.z());
}

}  // namespace

Solid solid_of(const scene::Furniture& furniture) {
    return std::visit([](const auto& shape) { return solid_of_shape(shape); }, furniture.shape);
}

Solid solid_of(const scene::Lamp& lamp) {
    return std::visit([&](const auto& shape) { return lamp_solid(lamp.centre, shape); }, lamp.shape);
}

Solid solid_of(const scene::Screen& screen) {
    return box_solid(screen.box.centre(), screen.box.half().cwiseMax(0.5 * screen_thickness),
                     Rotation::Identity());
}

Solid segment(const Vec3& from, const Vec3& to, double radius) {
    const Vec3 way = to - from;
    return cylinder_solid(0.5 * (from + to), way.normalized(), 0.5 * way.norm(), radius);
}

Solid Solid::moved(const Vec3& by) const {
    return {[solid = *this, by](const Vec3& direction) -> Vec3 { return solid.support(direction) + by; },
            centre + by};
}

Solid swept(const Solid& solid, const Vec3& by) {
    return {[solid, by](const Vec3& direction) -> Vec3 {
                const Vec3 point = solid.support(direction);
                return direction.dot(by) > 0 ? point + by : point;
            },
            solid.centre + 0.5 * by};
}

double penetration(const Solid& a, const Solid& b) {
    ccd_t query;
    CCD_INIT(&query);
    query.support1 = query.support2 = ccd_support;
    query.center1 = query.center2 = ccd_centre;
    query.max_iterations = 200;
    query.mpr_tolerance = 1e-6;
    ccd_real_t depth = 0;
    ccd_vec3_t direction;
    ccd_vec3_t position;
    return ccdMPRPenetration(&a, &b, &query, &depth, &direction, &position) == 0 ? depth : 0;
}

scene::Box bounds(const Solid& solid) {
    scene::Box box{};
    for (int axis = 0; axis < 3; ++axis) {
        box.min[axis] = solid.support(-Vec3::Unit(axis))[axis];
        box.max[axis] = solid.support(Vec3::Unit(axis))[axis];
    }
    return box;
}

double distance_to_surface(const scene::Lamp& lamp, const Vec3& point) {
    return std::visit([&](const auto& shape) { return surface_distance(point - lamp.centre, shape); },
                      lamp.shape);
}

}  // namespace dapple::advice
