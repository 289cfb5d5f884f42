// Small enclosures for tests, in metres.
#pragma once

#include <string>

#include "scene/enclosure.h"

namespace dapple::tests {

inline spectrum::Material opaque(const std::string& id) {
    spectrum::Material material;
    material.id = id;
    return material;
}

inline spectrum::Material clear_sheet(const std::string& id) {
    spectrum::Material material;
    material.id = id;
    material.optics = spectrum::Optics{};
    return material;
}

// 120 x 60 x 60 cm, all walls of the one material, the top open.
inline scene::Enclosure box_of(const spectrum::Material& material) {
    scene::Enclosure e;
    e.id = "test";
    e.size = {1.2, 0.6, 0.6};
    e.walls.fill(material);
    e.walls[static_cast<std::size_t>(scene::Face::top)] = std::nullopt;
    return e;
}

inline scene::Furniture stone(const scene::Vec3& min, const scene::Vec3& max, bool perch,
                              const scene::Vec3& turn = scene::Vec3::Zero()) {
    return {"stone", "Flat stone", scene::BoxShape{{min, max}, turn}, opaque("slate"), perch};
}

inline scene::Furniture branch(const scene::Vec3& from, const scene::Vec3& to, double diameter, bool perch) {
    return {"branch", "Branch", scene::CylinderShape{from, to, diameter, scene::Vec3::Zero()}, opaque("bark"),
            perch};
}

}  // namespace dapple::tests
