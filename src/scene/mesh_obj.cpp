// Wavefront OBJ by tinyobjloader.
#include <fmt/format.h>

#include <cmath>
#include <sstream>
#include <vector>

#include "scene/mesh_file.h"

#define TINYOBJLOADER_USE_DOUBLE
#define TINYOBJLOADER_IMPLEMENTATION
#include <tiny_obj_loader.h>

namespace dapple::scene {

namespace {

std::string line_of(const std::string& text) {
    return text.substr(0, text.find('\n'));
}

}  // namespace

Expected<MeshShape> parse_obj(std::string_view text, const std::string& file, const std::string& place) {
    const auto fault = [&](std::string found, std::string allowed) {
        return refuse({file, place, std::move(found), std::move(allowed)});
    };
    tinyobj::attrib_t attributes;
    std::vector<tinyobj::shape_t> shapes;
    std::vector<tinyobj::material_t> materials;
    std::string warning;
    std::string error;
    std::istringstream in{std::string(text)};
    if (!tinyobj::LoadObj(&attributes, &shapes, &materials, &warning, &error, &in)) {
        return fault("an OBJ mesh that cannot be read: " + line_of(error), "Wavefront OBJ");
    }

    MeshShape mesh;
    const std::size_t vertices = attributes.vertices.size() / 3;
    mesh.vertices.reserve(vertices);
    for (std::size_t i = 0; i < vertices; ++i) {
        const Vec3 vertex(attributes.vertices[3 * i], attributes.vertices[3 * i + 1],
                          attributes.vertices[3 * i + 2]);
        if (!vertex.allFinite())
            return fault(fmt::format("vertex {} that is no number", i + 1), "finite numbers");
        mesh.vertices.push_back(vertex);
    }
    for (const tinyobj::shape_t& shape : shapes) {
        const auto& indices = shape.mesh.indices;
        if (mesh.triangles.size() + indices.size() / 3 > most_triangles) {
            return fault("too many triangles", fmt::format("at most {}", most_triangles));
        }
        for (std::size_t i = 0; i + 2 < indices.size(); i += 3) {
            const std::array<int, 3> corners = {indices[i].vertex_index, indices[i + 1].vertex_index,
                                                indices[i + 2].vertex_index};
            for (const int corner : corners) {
                if (corner < 0 || static_cast<std::size_t>(corner) >= vertices) {
                    return fault(fmt::format("a face with vertex {}", corner + std::int64_t{1}),
                                 fmt::format("vertices 1 to {}", vertices));
                }
            }
            mesh.triangles.push_back(corners);
        }
    }
    if (mesh.triangles.empty()) return fault("an OBJ mesh without faces", "at least one face");
    return mesh;
}

}  // namespace dapple::scene
