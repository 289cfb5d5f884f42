// Triangle meshes made ready for patches: cut small enough, known to be closed or not, gathered into groups
// that look one way from one place.
#pragma once

#include <vector>

#include "scene/enclosure.h"

namespace dapple::light {

// The same surface with triangles whose longest edge is at most `edge` (m), as far as `most` triangles allow.
scene::MeshShape refined(const scene::MeshShape& mesh, double edge, std::size_t most = 200000);

// Every edge is shared by two triangles that run along it in opposite directions: the mesh has an inside.
// Corners count as one where their coordinates are equal.
bool is_closed(const scene::MeshShape& mesh);

// Groups of triangles whose normals lean to the same axis and whose centres share a cell of `edge` metres:
// group[triangle], numbered from 0.
std::vector<int> grouped(const scene::MeshShape& mesh, double edge);

}  // namespace dapple::light
