#include "scene/geometry.h"

namespace dapple::scene {

Rotation turn(const Vec3& angles) {
    if (angles.isZero(0)) return Rotation::Identity();
    const Eigen::AngleAxisd about_x(angles.x(), Vec3::UnitX());
    const Eigen::AngleAxisd about_y(angles.y(), Vec3::UnitY());
    const Eigen::AngleAxisd about_z(angles.z(), Vec3::UnitZ());
    return (about_z * about_y * about_x).toRotationMatrix();  // about_x acts first
}

}  // namespace dapple::scene
