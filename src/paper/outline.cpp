#include "paper/outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace dapple::paper {

namespace {

using scene::Vec3;
using Points = std::vector<Vec3>;

constexpr int around = 20;  // points on a circle

double angle(int i) {
    return 2 * std::numbers::pi * i / around;
}

void turn_about(Points& points, const Vec3& centre, const Vec3& angles) {
    const scene::Rotation turned = scene::turn(angles);
    for (Vec3& point : points) point = centre + turned * (point - centre);
}

Points corners(const scene::Box& box) {
    Points points;
    for (int i = 0; i < 8; ++i) {
        points.emplace_back((i & 1) != 0 ? box.max.x() : box.min.x(),
                            (i & 2) != 0 ? box.max.y() : box.min.y(),
                            (i & 4) != 0 ? box.max.z() : box.min.z());
    }
    return points;
}

// Circles of a diameter about the ends of an axis.
Points tube(const Vec3& from, const Vec3& to, double diameter) {
    const Vec3 axis = (to - from).normalized();
    const Vec3 u = axis.unitOrthogonal();
    const Vec3 v = axis.cross(u);
    Points points;
    for (int i = 0; i < around; ++i) {
        const Vec3 out = diameter / 2 * (std::cos(angle(i)) * u + std::sin(angle(i)) * v);
        points.push_back(from + out);
        points.push_back(to + out);
    }
    return points;
}

Points points_of(const scene::BoxShape& shape) {
    Points points = corners(shape.box);
    turn_about(points, shape.box.centre(), shape.turn);
    return points;
}
Points points_of(const scene::CylinderShape& shape) {
    Points points = tube(shape.from, shape.to, shape.diameter);
    turn_about(points, (shape.from + shape.to) / 2, shape.turn);
    return points;
}
Points points_of(const scene::EllipsoidShape& shape) {
    Points points;
    for (int i = 0; i <= around / 2; ++i) {
        for (int j = 0; j < around; ++j) {
            const Vec3 out(std::sin(angle(i)) * std::cos(angle(j)), std::sin(angle(i)) * std::sin(angle(j)),
                           std::cos(angle(i)));
            points.emplace_back(shape.centre + shape.radii.cwiseProduct(out));
        }
    }
    turn_about(points, shape.centre, shape.turn);
    return points;
}
Points points_of(const scene::MeshShape& shape) {
    return shape.vertices;
}

Points points_of(const scene::Tube& tube_shape, const Vec3& centre) {
    const Vec3 half = tube_shape.length / 2 * tube_shape.along;
    return tube(centre - half, centre + half, std::max(0.01, tube_shape.diameter));
}
Points points_of(const scene::Spot& spot, const Vec3& centre) {
    return tube(centre, centre - 0.04 * spot.aim, std::max(0.02, spot.diameter));
}
Points points_of(const scene::Bar& bar, const Vec3& centre) {
    const Vec3 half = bar.length / 2 * bar.along;
    return tube(centre - half, centre + half, 0.02);
}

double cross(const Point& o, const Point& a, const Point& b) {
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

// Andrew 1979, Information Processing Letters 9:216-219.
Line hull(Line points) {
    std::sort(points.begin(), points.end(),
              [](const Point& a, const Point& b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
    Line line;
    for (int pass = 0; pass < 2; ++pass) {
        const std::size_t begin = line.size();
        for (const Point& point : points) {
            while (line.size() >= begin + 2 && cross(line[line.size() - 2], line.back(), point) <= 0)
                line.pop_back();
            line.push_back(point);
        }
        line.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return line;
}

Line seen(const Slice& slice, const Points& points) {
    Line line;
    for (const Vec3& point : points) line.push_back(on_paper(slice, point));
    return hull(std::move(line));
}

double depth(const Slice& slice, const Vec3& point) {
    return slice.cut == Cut::plan ? point.z() : point.y();
}

bool is_cut(const Slice& slice, const Points& points) {
    double least = depth(slice, points.front());
    double most = least;
    for (const Vec3& point : points) {
        least = std::min(least, depth(slice, point));
        most = std::max(most, depth(slice, point));
    }
    return least < slice.at && slice.at < most;
}

// What is as thick all along its depth shows its cut as its shadow; a branch or a rock does not.
template <class Shape>
constexpr bool straight = std::is_same_v<Shape, scene::BoxShape>;

}  // namespace

Point on_paper(const Slice& slice, const Vec3& point) {
    return {point.x(), slice.cut == Cut::plan ? point.y() : point.z()};
}

std::vector<Outline> outlines(const Slice& slice, const scene::Enclosure& enclosure) {
    std::vector<Outline> all;
    const auto add = [&](const auto& shape, bool leaves) {
        const Points points = points_of(shape);
        if (points.empty()) return;
        all.push_back(
            {seen(slice, points), straight<std::decay_t<decltype(shape)>> && is_cut(slice, points), leaves});
    };
    for (const scene::Foliage& plant : enclosure.foliage)
        std::visit([&](const auto& shape) { add(shape, true); }, plant.shape);
    for (const scene::Furniture& piece : enclosure.furniture)
        std::visit([&](const auto& shape) { add(shape, false); }, piece.shape);
    return all;
}

Line lamp_outline(const Slice& slice, const scene::Lamp& lamp) {
    return seen(slice,
                std::visit([&](const auto& shape) { return points_of(shape, lamp.centre); }, lamp.shape));
}

}  // namespace dapple::paper
