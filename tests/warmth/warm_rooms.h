// Small enclosures to warm.
#pragma once

#include <numbers>

#include "light/field.h"
#include "scene/enclosure.h"
#include "spectrum/lamp_spectrum.h"
#include "spectrum/material.h"

namespace dapple::tests {

inline scene::Lamp halogen(const scene::Vec3& centre, double lux_at_30_cm, double power_w) {
    scene::Lamp lamp;
    lamp.id = "heat";
    lamp.name = "Heat lamp";
    lamp.centre = centre;
    const double beam = 40 * std::numbers::pi / 180;
    lamp.shape =
        scene::Spot{0.06, std::log(0.5) / std::log(std::cos(beam / 2)), beam, -scene::Vec3::UnitZ(), {}};
    lamp.spectrum = *spectrum::find_lamp_spectrum("halogen");
    if (lux_at_30_cm > 0) lamp.output = {{spectrum::Quantity::lux, lux_at_30_cm, 0.3}};
    lamp.power_w = power_w;
    return lamp;
}

inline scene::Place bask_at(const scene::Vec3& position) {
    scene::Place spot;
    spot.id = "bask";
    spot.name = "Basking place";
    spot.position = position;
    spot.role = scene::Role::bask;
    return spot;
}

// 1.2 x 0.6 x 0.6 m with a halogen under the lid.
inline scene::Enclosure warm_box(const std::string& walls = "pvc_white",
                                 const std::string& top = "pvc_white") {
    scene::Enclosure box;
    box.id = box.name = "box";
    box.size = {1.2, 0.6, 0.6};
    for (const scene::Face face : scene::faces) {
        box.walls[static_cast<std::size_t>(face)] = *spectrum::find_material(walls);
    }
    auto& lid = box.walls[static_cast<std::size_t>(scene::Face::top)];
    if (top == "open") {
        lid.reset();
    } else {
        lid = *spectrum::find_material(top);
    }
    box.walls[0] = *spectrum::find_material("dry_sand");
    box.lamps = {halogen({0.3, 0.3, 0.56}, 18000, 60)};
    box.spots = {bask_at({0.3, 0.3, 0})};
    return box;
}

inline scene::Furniture stone() {
    return {"stone", "Flat stone", scene::BoxShape{{{0.15, 0.2, 0}, {0.45, 0.4, 0.08}}, scene::Vec3::Zero()},
            *spectrum::find_material("slate"), true};
}

}  // namespace dapple::tests
