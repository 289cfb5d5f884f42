#include "warmth/basking_surface.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "light/body.h"
#include "warmth/matter.h"
#include "warmth/radiation.h"
#include "warmth/rays.h"

namespace dapple::warmth {

namespace {

using scene::Enclosure;
using scene::Face;
using scene::Vec3;
constexpr double pi = std::numbers::pi;

// W/m2/K from a side of furniture to the air and the walls: natural convection 4 and radiation 6 near 310 K.
constexpr double from_sides = 10;

// Heat that a top of that area and outline sends down a block, W/m2/K of its area.
double down_a_block(double conductivity, double area, double perimeter, double height, double below) {
    const double m = std::sqrt(from_sides * perimeter / (conductivity * area));
    const double tip = below / (m * conductivity);
    const double t = std::tanh(std::min(50.0, m * height));
    return conductivity * m * (t + tip) / (1 + tip * t);
}

Ground ground_of(const Enclosure& enclosure, const light::Body& body, const scene::Furniture& piece) {
    Ground ground;
    const Matter& matter = matter_of(piece.material.id);
    ground.emissivity = matter.emissivity;
    if (body.kind == light::BodyKind::cylinder) {
        const double diameter = 2 * body.half[0];
        ground.side = Side::cylinder;
        ground.length = diameter;
        constexpr double mean_way = pi / 4;  // across a disc, over its diameter
        ground.conductance = 1 / (mean_way * diameter / matter.conductivity + 1 / from_sides);
        return ground;
    }
    const double a = body.half[0];
    const double b = body.half[1];
    const bool round = body.kind == light::BodyKind::ellipsoid;
    const double area = round ? pi * a * b : 4 * a * b;
    const double perimeter = round ? 2 * pi * std::sqrt((a * a + b * b) / 2) : 4 * (a + b);
    const double height = (round ? 4.0 / 3 : 2.0) * body.half[2];
    ground.length = area / perimeter;
    const bool stands = body.lo[2] < 0.01;
    const auto& floor = enclosure.walls[static_cast<std::size_t>(Face::floor)];
    double below = from_sides;
    if (stands && floor) {
        const Matter& under = matter_of(floor->id);
        const double thickness =
            enclosure.room.wall_thickness[static_cast<std::size_t>(Face::floor)].value_or(under.thickness);
        below = 1 / (thickness / under.conductivity + 2 / from_sides);
    }
    ground.conductance = down_a_block(matter.conductivity, area, perimeter, height, below);
    return ground;
}

Ground ground_of(const Enclosure& enclosure, Face face) {
    Ground ground;
    ground.face = face;
    ground.to_room = true;
    const auto& wall = enclosure.walls[static_cast<std::size_t>(face)];
    if (wall) ground.emissivity = matter_of(wall->id).emissivity;
    const Vec3& size = enclosure.size;
    if (face == Face::floor) {
        ground.length = size.x() * size.y() / (2 * (size.x() + size.y()));
    } else {
        ground.side = face == Face::top ? Side::down : Side::vertical;
        ground.length = size.z() / 2;
    }
    const double room_k = enclosure.room.day_c + zero_c;
    constexpr double usual_rise = 12;  // K, at which the outside of a wall is judged
    ground.conductance = wall_conductance(enclosure, face, room_k + usual_rise, room_k);
    return ground;
}

// How far a place lies outside a body, roughly: exact on its surface.
double outside(const light::Body& body, const Vec3& place) {
    const auto p = light::move_into(body, light::Triple<double>{place.x(), place.y(), place.z()});
    const Vec3 q(p.x, p.y, p.z);
    const Vec3 half(body.half[0], body.half[1], body.half[2]);
    switch (body.kind) {
        case light::BodyKind::box:
            return (q.cwiseAbs() - half).maxCoeff();
        case light::BodyKind::cylinder:
            return std::max(std::hypot(q.x(), q.y()) - half.x(), std::abs(q.z()) - half.z());
        case light::BodyKind::ellipsoid:
            break;
    }
    return (q.cwiseQuotient(half).norm() - 1) * half.minCoeff();
}

}  // namespace

Grounds::Grounds(const Enclosure& enclosure)
    : size_(enclosure.size), bodies_(bodies_of(enclosure.furniture)) {
    for (const Face face : scene::faces) grounds_.push_back(ground_of(enclosure, face));
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
        grounds_.push_back(ground_of(enclosure, bodies_[i], enclosure.furniture[i]));
        grounds_.back().furniture = static_cast<int>(i);
    }
}

std::size_t Grounds::under(const Vec3& feet) const {
    constexpr double touching = 0.01;  // m: documents give spots to the centimetre
    // In the order of scene::faces.
    const std::array<double, 6> from_walls = {
        feet.z(), feet.x(), size_.x() - feet.x(), feet.y(), size_.y() - feet.y(), size_.z() - feet.z()};
    const auto* const wall = std::min_element(from_walls.begin(), from_walls.end());
    auto nearest = static_cast<std::size_t>(wall - from_walls.begin());
    double least = std::min(touching, *wall);
    if (*wall > touching) nearest = 0;  // in the air: above the floor
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
        const light::Body& body = bodies_[i];
        bool far = false;
        for (int axis = 0; axis < 3; ++axis) {
            far = far || feet[axis] < body.lo[axis] - touching || feet[axis] > body.hi[axis] + touching;
        }
        if (far) continue;
        const double gap = std::abs(outside(body, feet));
        if (gap > least) continue;
        least = gap;
        nearest = scene::faces.size() + i;
    }
    return nearest;
}

double surplus(double kelvin, double absorbed, const Ground& ground, const Around& around,
               const Assumptions& assumptions) {
    const double to_air = assumptions.convection * (kelvin - around.air_k) *
                          convection(ground.side, ground.length, kelvin, around.air_k);
    const double to_walls = std::min(1.0, assumptions.emissivity * ground.emissivity) *
                            (black_emittance(kelvin) - black_emittance(around.radiant_k));
    const double into = assumptions.conduction * ground.conductance * (kelvin - around.ground_k);
    return absorbed - to_air - to_walls - into;
}

double surface_k(double absorbed, const Ground& ground, const Around& around, const Assumptions& assumptions,
                 std::optional<double> near) {
    constexpr double step_k = 0.05;
    constexpr double enough_k = 1e-4;
    double kelvin = near ? *near : around.air_k + std::min(60.0, absorbed / (12 + ground.conductance)) + 0.1;
    for (int round = 0; round < 40; ++round) {
        const double left = surplus(kelvin, absorbed, ground, around, assumptions);
        const double slope =
            (surplus(kelvin + step_k, absorbed, ground, around, assumptions) - left) / step_k;
        const double step = std::clamp(-left / slope, -40.0, 40.0);
        kelvin += step;
        if (std::abs(step) < enough_k) break;
    }
    return kelvin;
}

}  // namespace dapple::warmth
