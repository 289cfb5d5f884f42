#include "husbandry/solid.h"

#include <algorithm>
#include <cmath>

namespace dapple::husbandry {

namespace {

using scene::Box;
using scene::Vec3;

constexpr int columns_across = 32;

Box bounds_of(const scene::MeshShape& mesh) {
    if (mesh.vertices.empty()) return {Vec3::Zero(), Vec3::Zero()};
    Box box = {mesh.vertices.front(), mesh.vertices.front()};
    for (const Vec3& v : mesh.vertices) {
        box.min = box.min.cwiseMin(v);
        box.max = box.max.cwiseMax(v);
    }
    return box;
}

// Twice the signed area of the triangle a, b, p seen from above.
double side(const Vec3& a, const Vec3& b, const Vec3& p) {
    return (b.x() - a.x()) * (p.y() - a.y()) - (b.y() - a.y()) * (p.x() - a.x());
}

// An edge belongs to one of its two triangles only, so that a ray through it is counted once.
bool is_left_of(const Vec3& a, const Vec3& b, const Vec3& p) {
    const double s = side(a, b, p);
    const bool owns_edge = b.y() > a.y() || (b.y() == a.y() && b.x() < a.x());
    return s > 0 || (s == 0 && owns_edge);
}

bool is_under(const Vec3& place, Vec3 a, Vec3 b, const Vec3& c) {
    double turned = side(a, b, c);
    if (turned == 0) return false;  // stands on edge
    if (turned < 0) {
        std::swap(a, b);
        turned = -turned;
    }
    if (!is_left_of(a, b, place) || !is_left_of(b, c, place) || !is_left_of(c, a, place)) return false;
    const double z =
        (side(b, c, place) * a.z() + side(c, a, place) * b.z() + side(a, b, place) * c.z()) / turned;
    return z > place.z();
}

}  // namespace

Solid::Solid(const scene::Furniture& furniture) : furniture_(&furniture) {
    if (const auto* box = std::get_if<scene::BoxShape>(&furniture.shape)) {
        to_own_axes_ = scene::turn(box->turn).transpose();
        centre_ = box->box.centre();
    } else if (const auto* ellipsoid = std::get_if<scene::EllipsoidShape>(&furniture.shape)) {
        to_own_axes_ = scene::turn(ellipsoid->turn).transpose();
        centre_ = ellipsoid->centre;
    } else if (const auto* cylinder = std::get_if<scene::CylinderShape>(&furniture.shape)) {
        to_own_axes_ = scene::turn(cylinder->turn).transpose();
        centre_ = 0.5 * (cylinder->from + cylinder->to);
    } else if (const auto* mesh = std::get_if<scene::MeshShape>(&furniture.shape)) {
        bounds_ = bounds_of(*mesh);
        sort_triangles_into_columns(*mesh);
    }
}

void Solid::sort_triangles_into_columns(const scene::MeshShape& mesh) {
    columns_ = columns_across;
    over_column_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(columns_));
    const Vec3 size = bounds_.max - bounds_.min;
    const auto column = [&](double at, int axis) {
        const double share = size[axis] > 0 ? (at - bounds_.min[axis]) / size[axis] : 0;
        return std::clamp(static_cast<int>(share * columns_), 0, columns_ - 1);
    };
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto corner = [&](int i) {
            return mesh.vertices[static_cast<std::size_t>(mesh.triangles[t][static_cast<std::size_t>(i)])];
        };
        const Vec3 low = corner(0).cwiseMin(corner(1)).cwiseMin(corner(2));
        const Vec3 high = corner(0).cwiseMax(corner(1)).cwiseMax(corner(2));
        for (int y = column(low.y(), 1); y <= column(high.y(), 1); ++y) {
            for (int x = column(low.x(), 0); x <= column(high.x(), 0); ++x) {
                over_column_[column_at(x, y)].push_back(static_cast<int>(t));
            }
        }
    }
}

std::size_t Solid::column_at(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x);
}

bool Solid::mesh_holds(const scene::MeshShape& mesh, const Vec3& place) const {
    if (!bounds_.contains(place)) return false;
    const Vec3 share = (place - bounds_.min).cwiseQuotient((bounds_.max - bounds_.min).cwiseMax(1e-12));
    const int x = std::clamp(static_cast<int>(share.x() * columns_), 0, columns_ - 1);
    const int y = std::clamp(static_cast<int>(share.y() * columns_), 0, columns_ - 1);
    bool inside = false;
    for (const int t : over_column_[column_at(x, y)]) {
        const auto& [a, b, c] = mesh.triangles[static_cast<std::size_t>(t)];
        const auto at = [&](int i) { return mesh.vertices[static_cast<std::size_t>(i)]; };
        if (is_under(place, at(a), at(b), at(c))) inside = !inside;
    }
    return inside;
}

bool Solid::holds(const Vec3& place) const {
    const Vec3 own = to_own_axes_ * (place - centre_);
    if (const auto* box = std::get_if<scene::BoxShape>(&furniture_->shape)) {
        return (own.cwiseAbs().array() < box->box.half().array()).all();
    }
    if (const auto* ellipsoid = std::get_if<scene::EllipsoidShape>(&furniture_->shape)) {
        return own.cwiseQuotient(ellipsoid->radii).squaredNorm() < 1;
    }
    if (const auto* cylinder = std::get_if<scene::CylinderShape>(&furniture_->shape)) {
        const Vec3 axis = cylinder->to - cylinder->from;
        const double length = axis.norm();
        if (length == 0) return false;
        const double along = own.dot(axis) / length;
        const double across2 = own.squaredNorm() - along * along;
        return std::abs(along) < length / 2 && across2 < cylinder->diameter * cylinder->diameter / 4;
    }
    return mesh_holds(std::get<scene::MeshShape>(furniture_->shape), place);
}

}  // namespace dapple::husbandry
