#include "light/body.h"

#include <algorithm>
#include <cmath>

namespace dapple::light {

using scene::Vec3;

namespace {

void place(Body& body, const Vec3& centre, const scene::Rotation& axes, const Vec3& half, const Vec3& reach) {
    for (int i = 0; i < 3; ++i) {
        body.centre[i] = centre[i];
        body.half[i] = half[i];
        body.lo[i] = centre[i] - reach[i];
        body.hi[i] = centre[i] + reach[i];
        for (int j = 0; j < 3; ++j) body.frame[3 * i + j] = axes(j, i);
    }
    body.turned = !axes.isApprox(scene::Rotation::Identity(), 1e-15);
}

// Half extents along the enclosure's axes of a box of half edges `half` with the given axes.
Vec3 box_reach(const scene::Rotation& axes, const Vec3& half) {
    return axes.cwiseAbs() * half;
}

Vec3 shrink(const Vec3& half, double slack) {
    return (half.array() - slack).max(0.0).matrix();
}

}  // namespace

Body make_body(const scene::BoxShape& shape, double slack) {
    Body body;
    const Vec3 half = shrink(shape.box.half(), slack);
    const scene::Rotation axes = scene::turn(shape.turn);
    place(body, shape.box.centre(), axes, half, box_reach(axes, half));
    return body;
}

Body make_body(const scene::EllipsoidShape& shape, double slack) {
    Body body;
    body.kind = BodyKind::ellipsoid;
    const Vec3 half = shrink(shape.radii, slack);
    const scene::Rotation axes = scene::turn(shape.turn);
    const Vec3 reach = (axes * half.asDiagonal()).rowwise().norm();
    place(body, shape.centre, axes, half, reach);
    return body;
}

Body make_body(const scene::CylinderShape& shape, double slack) {
    Body body;
    body.kind = BodyKind::cylinder;
    const Vec3 centre = 0.5 * (shape.from + shape.to);
    const Vec3 along = scene::turn(shape.turn) * (shape.to - shape.from).normalized();
    const Vec3 side = along.unitOrthogonal();
    scene::Rotation axes;
    axes.col(0) = side;
    axes.col(1) = along.cross(side);
    axes.col(2) = along;
    const double radius = shape.diameter / 2;
    const Vec3 half = shrink({radius, radius, (shape.to - shape.from).norm() / 2}, slack);
    const Vec3 reach =
        half.z() * along.cwiseAbs() + half.x() * (1.0 - along.array().square()).max(0.0).sqrt().matrix();
    place(body, centre, axes, half, reach);
    return body;
}

Body make_body(const scene::Screen& screen) {
    Body body;
    place(body, screen.box.centre(), scene::Rotation::Identity(), screen.box.half(), screen.box.half());
    return body;
}

std::optional<Body> make_body(const scene::Furniture& furniture, double slack) {
    return std::visit(
        [&](const auto& shape) -> std::optional<Body> {
            if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, scene::MeshShape>) {
                return std::nullopt;
            } else {
                return make_body(shape, slack);
            }
        },
        furniture.shape);
}

std::vector<Body> wall_bodies(const scene::Enclosure& enclosure) {
    std::vector<Body> bodies;
    for (const scene::Face face : scene::faces) {
        if (face == scene::Face::floor || !enclosure.walls[static_cast<std::size_t>(face)]) continue;
        scene::Box box{Vec3::Zero(), enclosure.size};
        switch (face) {
            case scene::Face::left:
                box.max.x() = 0;
                break;
            case scene::Face::right:
                box.min.x() = enclosure.size.x();
                break;
            case scene::Face::front:
                box.max.y() = 0;
                break;
            case scene::Face::back:
                box.min.y() = enclosure.size.y();
                break;
            case scene::Face::top:
                box.min.z() = enclosure.size.z();
                break;
            case scene::Face::floor:
                break;
        }
        bodies.push_back(make_body(scene::BoxShape{box, Vec3::Zero()}, 0.0));
    }
    return bodies;
}

}  // namespace dapple::light
