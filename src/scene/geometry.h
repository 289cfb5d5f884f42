// Points, directions and boxes. Metres; x left to right, y front to back, z up; the origin is the inner
// front-left floor corner of the enclosure.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace dapple::scene {

using Vec3 = Eigen::Vector3d;
using Rotation = Eigen::Matrix3d;

struct Box {
    Vec3 min;
    Vec3 max;
    Vec3 centre() const { return 0.5 * (min + max); }
    Vec3 half() const { return 0.5 * (max - min); }
    bool contains(const Vec3& p, double slack = 0) const {
        return ((p - min).array() >= -slack).all() && ((max - p).array() >= -slack).all();
    }
};

// Turned about x, then y, then z (fixed axes), by angles in radians.
Rotation turn(const Vec3& angles);

}  // namespace dapple::scene
