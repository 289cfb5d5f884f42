// Small enclosures for the light tests, built in code: black boxes, lamps of unit strength, random furniture.
#pragma once

#include <cmath>
#include <random>
#include <string>

#include "light/body.h"
#include "light/embree.h"
#include "scene/enclosure.h"

namespace dapple::tests {

using scene::Vec3;

// A flat spectrum: every quantity is proportional to the geometric factor.
inline spectrum::LampSpectrum flat_spectrum() {
    return {"flat", "flat", spectrum::constant(1), "synthetic: constant"};
}

inline scene::Enclosure black_box(double x, double y, double z) {
    scene::Enclosure enclosure;
    enclosure.id = "box";
    enclosure.size = Vec3(x, y, z);
    for (auto& wall : enclosure.walls) wall = spectrum::gray("black", 0);
    enclosure.walls[static_cast<std::size_t>(scene::Face::top)] = std::nullopt;
    return enclosure;
}

inline scene::Lamp lamp(const std::string& id, const Vec3& centre,
                        std::variant<scene::Tube, scene::Spot, scene::Bar> shape) {
    scene::Lamp out;
    out.id = id;
    out.name = id;
    out.centre = centre;
    out.shape = std::move(shape);
    out.spectrum = flat_spectrum();
    out.output = {{spectrum::Quantity::uvi, 5, 0.3}};
    return out;
}

inline scene::Tube tube(double length, double diameter = 0.016, double forward_power = -1,
                        const Vec3& along = Vec3::UnitX(), const Vec3& aim = -Vec3::UnitZ()) {
    return {length, diameter, along, aim, forward_power, false};
}

inline scene::Spot spot(double diameter, double k, const Vec3& aim = -Vec3::UnitZ()) {
    return {diameter, k, 2 * std::acos(std::pow(0.5, 1 / k)), aim, std::nullopt};
}

inline scene::Furniture furniture(const std::string& id, decltype(scene::Furniture::shape) shape) {
    scene::Furniture out;
    out.id = id;
    out.name = id;
    out.shape = std::move(shape);
    out.material = spectrum::gray("gray", 0);
    return out;
}

// Pieces of furniture of all kinds, turned at random, in the lower three quarters of the box.
inline void furnish(scene::Enclosure& enclosure, int pieces, std::mt19937& random) {
    std::uniform_real_distribution<double> u(0, 1);
    auto place = [&](double low, double high) {
        return Vec3(enclosure.size.x() * (0.05 + 0.9 * u(random)),
                    enclosure.size.y() * (0.05 + 0.9 * u(random)),
                    enclosure.size.z() * (low + (high - low) * u(random)));
    };
    for (int i = 0; i < pieces; ++i) {
        const std::string id = "f" + std::to_string(i);
        const Vec3 turn = u(random) < 0.5 ? Vec3(Vec3::Zero()) : Vec3(u(random), u(random), u(random));
        const Vec3 centre = place(0.02, 0.75);
        switch (i % 3) {
            case 0: {
                const Vec3 half(0.01 + 0.08 * u(random), 0.01 + 0.08 * u(random), 0.01 + 0.06 * u(random));
                enclosure.furniture.push_back(
                    furniture(id, scene::BoxShape{{centre - half, centre + half}, turn}));
                break;
            }
            case 1:
                enclosure.furniture.push_back(furniture(
                    id,
                    scene::CylinderShape{centre, place(0.02, 0.75), 0.01 + 0.05 * u(random), Vec3::Zero()}));
                break;
            default:
                enclosure.furniture.push_back(furniture(
                    id, scene::EllipsoidShape{
                            centre,
                            Vec3(0.02 + 0.08 * u(random), 0.02 + 0.08 * u(random), 0.02 + 0.06 * u(random)),
                            turn}));
        }
    }
}

inline std::vector<Vec3> random_points(const scene::Enclosure& enclosure, int count, std::mt19937& random) {
    std::uniform_real_distribution<double> u(0, 1);
    std::vector<Vec3> points;
    for (int i = 0; i < count; ++i) {
        points.emplace_back(enclosure.size.x() * u(random), enclosure.size.y() * u(random),
                            0.8 * enclosure.size.z() * u(random));
    }
    return points;
}

// Points at least `clearance` away from convex furniture.
inline std::vector<Vec3> free_points(const scene::Enclosure& enclosure, std::size_t count, double clearance,
                                     std::mt19937& random) {
    std::vector<Vec3> points;
    while (points.size() < count) {
        const Vec3 point = random_points(enclosure, 1, random)[0];
        bool inside = false;
        for (const auto& piece : enclosure.furniture) {
            const auto body = light::make_body(piece, -clearance);
            inside = inside || (body && light::contains(*body, point));
        }
        if (!inside) points.push_back(point);
    }
    return points;
}

}  // namespace dapple::tests
