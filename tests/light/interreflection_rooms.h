// Simple rooms and lights for tests of reflected light.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "light/interreflection.h"

namespace dapple::light::rooms {

using scene::Vec3;

inline scene::Enclosure gray_room(const Vec3& size, double reflectance) {
    scene::Enclosure room;
    room.size = size;
    for (auto& wall : room.walls) wall = spectrum::gray("gray", reflectance);
    return room;
}

inline void open(scene::Enclosure& room, scene::Face face) {
    room.walls[static_cast<std::size_t>(face)].reset();
}

inline void paint(scene::Enclosure& room, scene::Face face, double reflectance) {
    room.walls[static_cast<std::size_t>(face)] = spectrum::gray("gray", reflectance);
}

template <class Shape>
scene::Furniture gray_piece(const Shape& shape, double reflectance) {
    return {.id = "piece",
            .name = {},
            .shape = shape,
            .material = spectrum::gray("gray", reflectance),
            .perch = false};
}

// A lamp that matters by its place and body only.
inline scene::Lamp tube(const Vec3& centre, double length, double diameter) {
    scene::Lamp lamp;
    lamp.id = "tube";
    lamp.centre = centre;
    lamp.shape = scene::Tube{length, diameter, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    return lamp;
}

inline scene::Lamp point_lamp(const Vec3& centre) {
    return tube(centre, 1e-6, 0);
}

// Direct light as a function of place and normal, the same in every band.
inline DirectOnSurfaces shining(const std::function<double(const Vec3&, const Vec3&)>& irradiance) {
    return
        [irradiance](int, std::span<const Vec3> points, std::span<const Vec3> normals, std::span<Bands> out) {
            for (std::size_t i = 0; i < points.size(); ++i)
                out[i].setConstant(irradiance(points[i], normals[i]));
        };
}

inline DirectOnSurfaces everywhere(double irradiance) {
    return shining([irradiance](const Vec3&, const Vec3&) { return irradiance; });
}

inline double facing(const std::vector<IndirectPacket>& packets, const Vec3& normal, int band = 0) {
    double sum = 0;
    for (const auto& packet : packets)
        sum += packet.weight[band] * std::max(0.0, packet.direction.dot(normal));
    return sum;
}

// A ball of triangles about the centre, each looking outward. `rings` from pole to pole.
inline scene::MeshShape ball(const Vec3& centre, double radius, int rings) {
    scene::MeshShape mesh;
    const int around = 2 * rings;
    const double pi = 3.14159265358979323846;
    mesh.vertices.push_back(centre + Vec3(0, 0, radius));
    for (int i = 1; i < rings; ++i) {
        for (int k = 0; k < around; ++k) {
            const double theta = pi * i / rings;
            const double phi = 2 * pi * k / around;
            mesh.vertices.push_back(centre + radius * Vec3(std::sin(theta) * std::cos(phi),
                                                           std::sin(theta) * std::sin(phi), std::cos(theta)));
        }
    }
    mesh.vertices.push_back(centre - Vec3(0, 0, radius));
    const int last = static_cast<int>(mesh.vertices.size()) - 1;
    const auto at = [&](int ring, int k) {
        if (ring == 0) return 0;
        if (ring == rings) return last;
        return 1 + (ring - 1) * around + k % around;
    };
    for (int i = 0; i < rings; ++i) {
        for (int k = 0; k < around; ++k) {
            if (i > 0) mesh.triangles.push_back({at(i, k), at(i + 1, k), at(i, k + 1)});
            if (i + 1 < rings) mesh.triangles.push_back({at(i, k + 1), at(i + 1, k), at(i + 1, k + 1)});
        }
    }
    return mesh;
}

}  // namespace dapple::light::rooms
