#include "scene/mesh_file.h"

#include <fmt/format.h>

#include <algorithm>

namespace dapple::scene {

namespace {

std::string ending(const std::string& name) {
    const std::size_t dot = name.rfind('.');
    if (dot == std::string::npos) return "";
    std::string result = name.substr(dot + 1);
    std::transform(result.begin(), result.end(), result.begin(),
                   [](unsigned char c) { return static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c); });
    return result;
}

}  // namespace

Expected<MeshShape> parse_mesh(std::string_view bytes, const std::string& name, const std::string& file,
                               const std::string& place) {
    const std::string kind = ending(name);
    if (kind == "obj") return parse_obj(bytes, file, place);
    if (kind == "gltf" || kind == "glb") return parse_gltf(bytes, file, place);
    return refuse({file, place, "\"" + name + "\"", "a name that ends in .obj, .gltf or .glb"});
}

std::string to_obj(const MeshShape& mesh, double scale) {
    std::string text;
    for (const Vec3& v : mesh.vertices) {
        text += fmt::format("v {} {} {}\n", v.x() * scale, v.y() * scale, v.z() * scale);
    }
    for (const auto& t : mesh.triangles) text += fmt::format("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
    return text;
}

}  // namespace dapple::scene
