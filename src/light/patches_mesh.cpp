#include "light/patches_mesh.h"

#include <array>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

namespace dapple::light {

namespace {

using scene::Vec3;
using Triangle = std::array<int, 3>;

const Vec3& corner(const scene::MeshShape& mesh, const Triangle& t, std::size_t c) {
    return mesh.vertices[static_cast<std::size_t>(t[c % 3])];
}

std::size_t longest_edge(const scene::MeshShape& mesh, const Triangle& t) {
    std::size_t longest = 0;
    double length = -1;
    for (std::size_t e = 0; e < 3; ++e) {
        const double l = (corner(mesh, t, e + 1) - corner(mesh, t, e)).squaredNorm();
        if (l > length) {
            length = l;
            longest = e;
        }
    }
    return longest;
}

}  // namespace

scene::MeshShape refined(const scene::MeshShape& mesh, double edge, std::size_t most) {
    scene::MeshShape fine{mesh.vertices, {}};
    std::vector<Triangle> waiting(mesh.triangles.rbegin(), mesh.triangles.rend());
    while (!waiting.empty()) {
        const Triangle t = waiting.back();
        waiting.pop_back();
        const std::size_t e = longest_edge(fine, t);
        const Vec3 a = corner(fine, t, e);
        const Vec3 b = corner(fine, t, e + 1);
        if ((b - a).norm() <= edge || fine.triangles.size() + waiting.size() + 2 > most) {
            fine.triangles.push_back(t);
            continue;
        }
        const int middle = static_cast<int>(fine.vertices.size());
        fine.vertices.emplace_back(0.5 * (a + b));
        waiting.push_back({middle, t[(e + 1) % 3], t[(e + 2) % 3]});
        waiting.push_back({t[e], middle, t[(e + 2) % 3]});
    }
    return fine;
}

bool is_closed(const scene::MeshShape& mesh) {
    std::map<std::array<double, 3>, int> welded;
    const auto weld = [&](int vertex) {
        const Vec3& p = mesh.vertices[static_cast<std::size_t>(vertex)];
        return welded.try_emplace({p.x(), p.y(), p.z()}, static_cast<int>(welded.size())).first->second;
    };
    std::map<std::pair<int, int>, int> uses;  // of directed edges
    for (const Triangle& t : mesh.triangles) {
        const Triangle w = {weld(t[0]), weld(t[1]), weld(t[2])};
        for (std::size_t e = 0; e < 3; ++e) {
            if (w[e] != w[(e + 1) % 3]) ++uses[{w[e], w[(e + 1) % 3]}];
        }
    }
    for (const auto& [edge, count] : uses) {
        const auto back = uses.find({edge.second, edge.first});
        if (back == uses.end() || back->second != count) return false;
    }
    return !uses.empty();
}

std::vector<int> grouped(const scene::MeshShape& mesh, double edge) {
    std::map<std::tuple<int, long, long, long>, int> groups;
    std::vector<int> group;
    group.reserve(mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = corner(mesh, t, 0);
        const Vec3 b = corner(mesh, t, 1);
        const Vec3 c = corner(mesh, t, 2);
        const Vec3 normal = (b - a).cross(c - a);
        Eigen::Index axis = 0;
        normal.cwiseAbs().maxCoeff(&axis);
        const int leaning = static_cast<int>(2 * axis) + (normal[axis] > 0 ? 1 : 0);
        const Vec3 cell = ((a + b + c) / (3 * edge)).array().floor();
        const auto key =
            std::tuple(leaning, std::lround(cell.x()), std::lround(cell.y()), std::lround(cell.z()));
        group.push_back(groups.try_emplace(key, static_cast<int>(groups.size())).first->second);
    }
    return group;
}

}  // namespace dapple::light
