// The inside of furniture.
#pragma once

#include <vector>

#include "scene/enclosure.h"

namespace dapple::husbandry {

// A piece of furniture that can tell whether a place lies in it. A mesh counts as closed: a place is inside
// when a ray straight up from it crosses the mesh an odd number of times.
class Solid {
  public:
    explicit Solid(const scene::Furniture& furniture);
    bool holds(const scene::Vec3& place) const;

  private:
    bool mesh_holds(const scene::MeshShape& mesh, const scene::Vec3& place) const;
    std::size_t column_at(int x, int y) const;
    void sort_triangles_into_columns(const scene::MeshShape& mesh);

    const scene::Furniture* furniture_;
    scene::Box bounds_;
    scene::Rotation to_own_axes_ = scene::Rotation::Identity();
    scene::Vec3 centre_ = scene::Vec3::Zero();
    // A mesh seen from above is cut into columns, each with the triangles over it.
    int columns_ = 0;
    std::vector<std::vector<int>> over_column_;
};

}  // namespace dapple::husbandry
