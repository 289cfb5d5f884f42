// Triangle meshes of scanned or modelled furniture: Wavefront OBJ and glTF 2.0 (text or binary).
//
// Positions come in the file's own units and axes; glTF's node transforms are applied. glTF says y is up and
// z points at the viewer; it is turned here to our axes (x right, y to the back, z up). An OBJ file states no
// axes and is taken as z up.
#pragma once

#include <string>
#include <string_view>

#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::scene {

inline constexpr std::size_t most_triangles = 2000000;

// `file` and `place` name the bytes in messages. Files that refer to further files are refused.
Expected<MeshShape> parse_obj(std::string_view text, const std::string& file, const std::string& place = "");
Expected<MeshShape> parse_gltf(std::string_view bytes, const std::string& file,
                               const std::string& place = "");

// Either, told apart by the name's ending (.obj, .gltf, .glb).
Expected<MeshShape> parse_mesh(std::string_view bytes, const std::string& name, const std::string& file,
                               const std::string& place);

// OBJ text of a mesh, with enough digits to read back the same positions.
std::string to_obj(const MeshShape& mesh, double scale);

}  // namespace dapple::scene
