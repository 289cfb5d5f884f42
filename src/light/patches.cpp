#include "light/patches.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "light/patches_mesh.h"

namespace dapple::light {

namespace {

using scene::Vec3;

// The part of the enclosure's own box that a wall is.
int part_of(scene::Face face) {
    switch (face) {
        case scene::Face::left:
            return 0;
        case scene::Face::right:
            return 1;
        case scene::Face::front:
            return 2;
        case scene::Face::back:
            return 3;
        case scene::Face::floor:
            return 4;
        case scene::Face::top:
            break;
    }
    return 5;
}

double mesh_area(const scene::MeshShape& mesh) {
    double twice = 0;
    for (const auto& t : mesh.triangles) {
        const auto at = [&](int vertex) { return mesh.vertices[static_cast<std::size_t>(vertex)]; };
        twice += (at(t[1]) - at(t[0])).cross(at(t[2]) - at(t[0])).norm();
    }
    return 0.5 * twice;
}

scene::Box box_about(const scene::MeshShape& mesh) {
    scene::Box box{mesh.vertices.front(), mesh.vertices.front()};
    for (const Vec3& vertex : mesh.vertices) {
        box.min = box.min.cwiseMin(vertex);
        box.max = box.max.cwiseMax(vertex);
    }
    return box;
}

double rough_area(const scene::Furniture& furniture) {
    if (const auto* mesh = std::get_if<scene::MeshShape>(&furniture.shape)) return mesh_area(*mesh);
    const Body body = *make_body(furniture, 0);
    double area = 0;
    for (int part = 0; part < parts(body); ++part) area += skin_point(body, part, {0.25, 0.25}).density;
    return area;
}

double wall_area(const Vec3& size) {
    return 2 * (size.x() * size.y() + size.y() * size.z() + size.z() * size.x());
}

// The edge that keeps the number of patches near `most` at most.
double affordable(const scene::Enclosure& enclosure, double edge, int most) {
    double area = wall_area(enclosure.size);
    for (const auto& furniture : enclosure.furniture) area += rough_area(furniture);
    return std::max(edge, std::sqrt(area / most));
}

std::vector<double> evenly(int steps) {
    std::vector<double> marks;
    for (int i = 0; i <= steps; ++i) marks.push_back(static_cast<double>(i) / steps);
    return marks;
}

int steps(double length, double edge, int least) {
    return std::max(least, static_cast<int>(std::ceil(length / edge - 1e-9)));
}

// Round faces need a few cells round to see all sides.
int least_round(const Body& body, int part) {
    if (body.kind == BodyKind::box) return 1;
    return body.kind == BodyKind::cylinder && part != 0 ? 1 : 6;
}

int least_along(const Body& body) {
    return body.kind == BodyKind::ellipsoid ? 3 : 1;
}

// Footprints of the lamps on a wall, along one axis of it.
std::vector<Footprint> footprints(const std::vector<LampLine>& lamps, int axis, int normal_axis,
                                  double wall) {
    std::vector<Footprint> prints;
    for (const auto& lamp : lamps) {
        const double height =
            std::min(std::abs(lamp.from[normal_axis] - wall), std::abs(lamp.to[normal_axis] - wall));
        prints.push_back({lamp.from[axis], lamp.to[axis], height});
    }
    return prints;
}

Vec3 lifted(const Vec3& point, const Vec3& normal) {
    return point + surface_lift * normal;
}

}  // namespace

Patches::Patches(const scene::Enclosure& enclosure, double edge, int most)
    : box_{Vec3::Zero(), enclosure.size},
      rays_(std::span<const scene::Furniture>{}),
      lamps_(lamp_lines(enclosure)) {
    const double width = affordable(enclosure, edge, most);
    for (const auto& piece : enclosure.furniture) {
        auto& kept = furniture_.emplace_back(piece);
        closed_.push_back(true);
        if (auto* mesh = std::get_if<scene::MeshShape>(&kept.shape)) {
            closed_.back() = is_closed(*mesh);
            *mesh = refined(*mesh, 1.5 * width);
            if (closed_.back()) closed_meshes_.push_back(box_about(*mesh));
        }
        bodies_.push_back(make_body(piece, 0));
    }
    rays_ = FurnitureRays(furniture_);
    cut_walls(enclosure, width);
    cut_furniture(width);
}

int Patches::keep(const spectrum::Material& material) {
    reflectances_.push_back(band_means(material.reflectance));
    if (reflectances_.back().maxCoeff() > 0) return static_cast<int>(reflectances_.size()) - 1;
    reflectances_.pop_back();
    return -1;
}

void Patches::cut_walls(const scene::Enclosure& enclosure, double edge) {
    const Body shell = make_body(scene::BoxShape{box_, Vec3::Zero()}, 0);
    for (const auto face : scene::faces) {
        const int part = part_of(face);
        auto& side = wall_side_[slot(part)];
        side = -1;
        const auto& wall = enclosure.walls[static_cast<std::size_t>(face)];
        const int material = wall ? keep(*wall) : -1;
        if (material < 0) continue;
        const int n = part / 2;
        const double at = part % 2 == 0 ? 0 : box_.max[n];
        const auto along = [&](int axis) {
            return cuts(box_.max[axis], edge, footprints(lamps_, axis, n, at));
        };
        side = add_side({shell, part, -1, along((n + 1) % 3), along((n + 2) % 3), {}}, material);
    }
}

void Patches::cut_furniture(double edge) {
    body_sides_.resize(furniture_.size());
    mesh_sides_.resize(furniture_.size());
    for (std::size_t i = 0; i < furniture_.size(); ++i) {
        const int material = keep(furniture_[i].material);
        const auto& body = bodies_[i];
        if (!body) {
            cut_mesh(static_cast<int>(i), material, edge);
            continue;
        }
        for (int part = 0; part < parts(*body); ++part) {
            const Chart long_way = extent(*body, part);
            body_sides_[i].push_back(
                material < 0 ? -1
                             : add_side({*body,
                                         part,
                                         1,
                                         evenly(steps(long_way.u, edge, least_round(*body, part))),
                                         evenly(steps(long_way.v, edge, least_along(*body))),
                                         {}},
                                        material));
        }
    }
}

int Patches::add_side(Side side, int material) {
    const int number = static_cast<int>(sides_.size());
    sides_.push_back(std::move(side));
    for (std::size_t v = 0; v + 1 < sides_.back().v.size(); ++v) {
        for (std::size_t u = 0; u + 1 < sides_.back().u.size(); ++u) {
            const Side& s = sides_.back();
            const int patch = add_patch(Cell{number, {s.u[u], s.v[v]}, {s.u[u + 1], s.v[v + 1]}}, material);
            sides_.back().patch.push_back(patch);
        }
    }
    return number;
}

void Patches::cut_mesh(int furniture, int material, double edge) {
    const auto& mesh = std::get<scene::MeshShape>(furniture_[slot(furniture)].shape);
    MeshSides& sides = mesh_sides_[slot(furniture)];
    sides.front.assign(mesh.triangles.size(), -1);
    if (!closed_[slot(furniture)]) sides.back = sides.front;
    if (material < 0) return;
    const auto group_of = grouped(mesh, edge);
    std::vector<std::vector<int>> groups;
    for (std::size_t t = 0; t < group_of.size(); ++t) {
        groups.resize(std::max(groups.size(), slot(group_of[t]) + 1));
        groups[slot(group_of[t])].push_back(static_cast<int>(t));
    }
    for (const auto& triangles : groups) {
        Group group{furniture, 1, triangles, {}};
        double area = 0;
        for (const int t : triangles) {
            const auto [a, b, c] = corners(furniture, t);
            group.area_up_to.push_back(area += 0.5 * (b - a).cross(c - a).norm());
        }
        if (area <= 0) continue;
        const int front = add_patch(group, material);
        group.outward = -1;
        const int back = sides.back.empty() ? -1 : add_patch(group, material);
        for (const int t : triangles) {
            sides.front[slot(t)] = front;
            if (back >= 0) sides.back[slot(t)] = back;
        }
    }
}

// Adds what is open of the shape; -1 when nothing is.
int Patches::add_patch(Shape shape, int material) {
    constexpr int probing = 4;  // a cell's hidden share is found on 4 x 4 places
    double whole = 0;
    double open = 0;
    std::vector<SurfaceSample> places;
    const auto lay_out = [&](int n) {
        whole = open = 0;
        places.clear();
        for (int j = 0; j < n; ++j) {
            for (int i = 0; i < n; ++i) {
                const auto place = sample_of(shape, (i + 0.5) / n, (j + 0.5) / n);
                whole += place.weight;
                if (!is_open(place)) continue;
                open += place.weight;
                places.push_back(place);
            }
        }
    };
    lay_out(probing);
    if (places.empty()) return -1;
    const double area = whole / (probing * probing);
    const double open_area = open / (probing * probing);
    const double width = std::sqrt(area);
    // Sub-cells are at most half as wide as the lamp is far, so that the irradiance is averaged well.
    const double distance = distance_to_lamps(lamps_, places[places.size() / 2].point);
    const int wanted = std::clamp(static_cast<int>(std::ceil(2 * width / distance)), 2, 8);
    const bool partly_hidden = static_cast<int>(places.size()) < probing * probing;
    if (wanted > probing || !partly_hidden) lay_out(wanted);
    if (places.empty()) return -1;
    patches_.push_back({std::move(shape), material, open_area, samples_.size(), places.size()});
    samples_.insert(samples_.end(), places.begin(), places.end());
    return count() - 1;
}

std::span<const SurfaceSample> Patches::spread(int patch) const {
    return {samples_.data() + at(patch).first_sample, at(patch).samples};
}

std::array<Vec3, 3> Patches::corners(int furniture, int triangle) const {
    const auto& mesh = std::get<scene::MeshShape>(furniture_[slot(furniture)].shape);
    const auto& t = mesh.triangles[slot(triangle)];
    return {mesh.vertices[slot(t[0])], mesh.vertices[slot(t[1])], mesh.vertices[slot(t[2])]};
}

SurfaceSample Patches::sample_of(const Shape& shape, double s, double t) const {
    return std::visit([&](const auto& part) { return sample_of(part, s, t); }, shape);
}

SurfaceSample Patches::sample_of(const Cell& cell, double s, double t) const {
    const Side& side = sides_[slot(cell.side)];
    const double du = cell.high.u - cell.low.u;
    const double dv = cell.high.v - cell.low.v;
    const SkinPoint at = skin_point(side.body, side.part, {cell.low.u + s * du, cell.low.v + t * dv});
    const Vec3 normal = side.outward * at.normal;
    return {lifted(at.point, normal), normal, at.density * du * dv};
}

SurfaceSample Patches::sample_of(const Group& group, double s, double t) const {
    const double area = group.area_up_to.back();
    const auto chosen = std::upper_bound(group.area_up_to.begin(), group.area_up_to.end() - 1, s * area);
    const auto k = static_cast<std::size_t>(chosen - group.area_up_to.begin());
    const double before = k == 0 ? 0 : group.area_up_to[k - 1];
    const double within = std::clamp((s * area - before) / (group.area_up_to[k] - before), 0.0, 1.0);
    const auto [a, b, c] = corners(group.furniture, group.triangles[k]);
    const double root = std::sqrt(within);  // evenly over a triangle (Turk 1990, Graphics Gems)
    const Vec3 normal = group.outward * (b - a).cross(c - a).normalized();
    return {lifted((1 - root) * a + root * ((1 - t) * b + t * c), normal), normal, area};
}

bool Patches::inside_furniture(const Vec3& point) const {
    const auto holds = [&](const std::optional<Body>& body) {
        if (!body) return false;
        for (int axis = 0; axis < 3; ++axis) {
            if (point[axis] < body->lo[axis] || point[axis] > body->hi[axis]) return false;
        }
        return contains(*body, point);
    };
    if (std::any_of(bodies_.begin(), bodies_.end(), holds)) return true;
    const auto near = [&](const scene::Box& box) { return box.contains(point); };
    if (std::none_of(closed_meshes_.begin(), closed_meshes_.end(), near)) return false;
    // In a closed mesh the first surface met is met from within.
    const auto hit = rays_.first(point, Vec3(0.36, 0.48, 0.8), 2 * (box_.max - box_.min).norm());
    return hit && hit->inside && closed_[slot(hit->furniture)];
}

bool Patches::is_open(const SurfaceSample& sample) const {
    return box_.contains(sample.point) && !inside_furniture(sample.point);
}

int Patches::patch_on(int side, const Vec3& point) const {
    if (side < 0) return -1;
    const Side& s = sides_[slot(side)];
    const Chart at = locate(s.body, s.part, point);
    const auto cell = [](const std::vector<double>& marks, double x) {
        return std::upper_bound(marks.begin() + 1, marks.end() - 1, x) - (marks.begin() + 1);
    };
    return s.patch[static_cast<std::size_t>(cell(s.v, at.v)) * (s.u.size() - 1) +
                   static_cast<std::size_t>(cell(s.u, at.u))];
}

int Patches::at_wall(scene::Face face, const Vec3& point) const {
    return patch_on(wall_side_[slot(part_of(face))], point);
}

int Patches::at_furniture(const FurnitureHit& hit, const Vec3& point) const {
    if (hit.triangle < 0)
        return hit.inside ? -1 : patch_on(body_sides_[slot(hit.furniture)][slot(hit.part)], point);
    const MeshSides& sides = mesh_sides_[slot(hit.furniture)];
    const auto& side = hit.inside ? sides.back : sides.front;
    return side.empty() ? -1 : side[slot(hit.triangle)];
}

Vec3 Patches::normal_at_wall(scene::Face face) {
    const int part = part_of(face);
    return (part % 2 == 0 ? 1 : -1) * Vec3::Unit(part / 2);
}

Vec3 Patches::normal_at_furniture(const FurnitureHit& hit, const Vec3& point) const {
    const double side = hit.inside ? -1 : 1;
    if (hit.triangle >= 0) {
        const auto [a, b, c] = corners(hit.furniture, hit.triangle);
        return side * (b - a).cross(c - a).normalized();
    }
    const Body& body = *bodies_[slot(hit.furniture)];
    return side * skin_point(body, hit.part, locate(body, hit.part, point)).normal;
}

}  // namespace dapple::light
