// glTF 2.0 by tinygltf, without images, extensions or files beside it.
#include <fmt/format.h>

#include <cstring>
#include <fstream>  // the header below uses it without including it
#include <optional>
#include <vector>

#include "scene/json_text.h"
#include "scene/mesh_file.h"

#define TINYGLTF_IMPLEMENTATION
#define TINYGLTF_NO_STB_IMAGE
#define TINYGLTF_NO_STB_IMAGE_WRITE
#define TINYGLTF_NO_EXTERNAL_IMAGE
#define TINYGLTF_NO_FS
#include <tiny_gltf.h>

namespace dapple::scene {

namespace {

using Placement = Eigen::Affine3d;

constexpr int deepest_node = 64;
constexpr std::size_t most_nodes = 100000;  // visited in all: nodes shared by many parents multiply

template <class T>
const T* element(const std::vector<T>& list, int index) {
    return index >= 0 && static_cast<std::size_t>(index) < list.size()
               ? &list[static_cast<std::size_t>(index)]
               : nullptr;
}

// The bytes of an accessor, checked once against the buffer they lie in.
struct Slice {
    const unsigned char* first;
    std::size_t count;
    std::size_t stride;
};

std::optional<Slice> slice(const tinygltf::Model& model, const tinygltf::Accessor& accessor) {
    const auto* view = element(model.bufferViews, accessor.bufferView);
    if (view == nullptr || accessor.sparse.isSparse) return std::nullopt;
    const auto* buffer = element(model.buffers, view->buffer);
    if (buffer == nullptr) return std::nullopt;
    const int component =
        tinygltf::GetComponentSizeInBytes(static_cast<std::uint32_t>(accessor.componentType));
    const int components = tinygltf::GetNumComponentsInType(static_cast<std::uint32_t>(accessor.type));
    if (component <= 0 || components <= 0) return std::nullopt;
    const std::size_t size = static_cast<std::size_t>(component) * static_cast<std::size_t>(components);
    const std::size_t stride = view->byteStride == 0 ? size : view->byteStride;
    const std::size_t bytes = buffer->data.size();
    constexpr std::size_t sane = std::size_t{1} << 40U;  // keeps the sums below from wrapping round
    if (stride < size || stride > 4096 || accessor.count == 0 || accessor.count > sane ||
        view->byteOffset > bytes || accessor.byteOffset > bytes) {
        return std::nullopt;
    }
    const std::size_t begin = view->byteOffset + accessor.byteOffset;
    if (begin + stride * (accessor.count - 1) + size > bytes) return std::nullopt;
    return Slice{buffer->data.data() + begin, accessor.count, stride};
}

template <class T>
T value_at(const unsigned char* bytes) {
    T value;
    std::memcpy(&value, bytes, sizeof value);
    return value;
}

Vec3 position_at(const unsigned char* bytes) {
    return Eigen::Vector3f(value_at<float>(bytes), value_at<float>(bytes + 4), value_at<float>(bytes + 8))
        .cast<double>();
}

class Gltf {
  public:
    Gltf(const tinygltf::Model& model, std::string file, std::string place)
        : model_(model), file_(std::move(file)), place_(std::move(place)) {}

    Expected<MeshShape> read() {
        // From glTF's y up, z to the viewer, to z up, y to the back.
        Placement ours = Placement::Identity();
        ours.linear() << 1, 0, 0, 0, 0, -1, 0, 1, 0;
        const auto* scene = element(model_.scenes, model_.defaultScene < 0 ? 0 : model_.defaultScene);
        if (scene == nullptr) return fault("a glTF without a scene", "a scene with a mesh");
        for (const int node : scene->nodes) {
            if (!add_node(node, ours, 0)) return refuse(problem_);
        }
        if (mesh_.triangles.empty()) return fault("a glTF without triangles", "a mesh of triangles");
        return std::move(mesh_);
    }

  private:
    static std::optional<Placement> placement(const tinygltf::Node& node) {
        Placement result = Placement::Identity();
        if (node.matrix.size() == 16) {
            result.matrix() = Eigen::Map<const Eigen::Matrix4d>(node.matrix.data());
        } else {
            if (node.translation.size() == 3) {
                result.translate(Vec3(node.translation[0], node.translation[1], node.translation[2]));
            }
            if (node.rotation.size() == 4) {
                const Eigen::Quaterniond q(node.rotation[3], node.rotation[0], node.rotation[1],
                                           node.rotation[2]);
                if (!(q.norm() > 0)) return std::nullopt;
                result.rotate(q.normalized());
            }
            if (node.scale.size() == 3) result.scale(Vec3(node.scale[0], node.scale[1], node.scale[2]));
        }
        if (!result.matrix().allFinite()) return std::nullopt;
        return result;
    }

    bool add_node(int index, const Placement& parent, int depth) {
        const auto* node = element(model_.nodes, index);
        if (node == nullptr) return fail(fmt::format("node {}", index), "a node of the file");
        if (depth > deepest_node || ++visited_ > most_nodes) {
            return fail("nodes nested too deeply or in a ring",
                        fmt::format("at most {} levels", deepest_node));
        }
        const auto own = placement(*node);
        if (!own) return fail(fmt::format("node {} with a transform that is none", index), "finite numbers");
        const Placement here = parent * *own;
        if (node->mesh >= 0 && !add_mesh(node->mesh, here)) return false;
        for (const int child : node->children) {
            if (!add_node(child, here, depth + 1)) return false;
        }
        return true;
    }

    bool add_mesh(int index, const Placement& here) {
        const auto* mesh = element(model_.meshes, index);
        if (mesh == nullptr) return fail(fmt::format("mesh {}", index), "a mesh of the file");
        for (const tinygltf::Primitive& primitive : mesh->primitives) {
            const bool triangles = primitive.mode == TINYGLTF_MODE_TRIANGLES || primitive.mode == -1;
            if (!triangles) return fail("lines, points or strips in a glTF mesh", "triangles");
            if (!add_primitive(primitive, here)) return false;
        }
        return true;
    }

    bool add_primitive(const tinygltf::Primitive& primitive, const Placement& here) {
        const auto found = primitive.attributes.find("POSITION");
        const auto* positions =
            found == primitive.attributes.end() ? nullptr : element(model_.accessors, found->second);
        if (positions == nullptr || positions->type != TINYGLTF_TYPE_VEC3 ||
            positions->componentType != TINYGLTF_COMPONENT_TYPE_FLOAT) {
            return fail("a glTF mesh without positions", "positions as three floats");
        }
        const auto bytes = slice(model_, *positions);
        if (!bytes)
            return fail("glTF positions outside their buffer, or sparse", "positions inside a buffer");

        const std::size_t base = mesh_.vertices.size();
        if (base + bytes->count > 3 * most_triangles) return too_many();
        for (std::size_t i = 0; i < bytes->count; ++i) {
            const unsigned char* p = bytes->first + i * bytes->stride;
            const Vec3 vertex = here * position_at(p);
            if (!vertex.allFinite()) return fail("a glTF position that is no number", "finite numbers");
            mesh_.vertices.push_back(vertex);
        }
        return add_triangles(primitive, base, bytes->count, here.linear().determinant() < 0);
    }

    bool add_triangles(const tinygltf::Primitive& primitive, std::size_t base, std::size_t vertices,
                       bool mirrored) {
        const auto* indices = element(model_.accessors, primitive.indices);
        std::optional<Slice> bytes;
        if (indices != nullptr) {
            bytes = slice(model_, *indices);
            if (!bytes)
                return fail("glTF indices outside their buffer, or sparse", "indices inside a buffer");
        }
        const std::size_t corners = bytes ? bytes->count : vertices;
        if (mesh_.triangles.size() + corners / 3 > most_triangles) return too_many();
        for (std::size_t i = 0; i + 2 < corners; i += 3) {
            std::array<int, 3> triangle{};
            for (std::size_t j = 0; j < 3; ++j) {
                std::size_t corner = i + j;
                if (bytes) {
                    const unsigned char* p = bytes->first + corner * bytes->stride;
                    switch (indices->componentType) {
                        case TINYGLTF_COMPONENT_TYPE_UNSIGNED_BYTE:
                            corner = *p;
                            break;
                        case TINYGLTF_COMPONENT_TYPE_UNSIGNED_SHORT:
                            corner = value_at<std::uint16_t>(p);
                            break;
                        case TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT:
                            corner = value_at<std::uint32_t>(p);
                            break;
                        default:
                            return fail("glTF indices of an unknown type", "unsigned whole numbers");
                    }
                }
                if (corner >= vertices) {
                    return fail(fmt::format("a glTF triangle with vertex {}", corner),
                                fmt::format("vertices 0 to {}", vertices - 1));
                }
                triangle[j] = static_cast<int>(base + corner);
            }
            if (mirrored) std::swap(triangle[1], triangle[2]);  // keeps outward outward
            mesh_.triangles.push_back(triangle);
        }
        return true;
    }

    bool too_many() { return fail("too many triangles", fmt::format("at most {}", most_triangles)); }

    bool fail(std::string found, std::string allowed) {
        problem_ = {file_, place_, std::move(found), std::move(allowed)};
        return false;
    }

    tl::unexpected<Problems> fault(std::string found, std::string allowed) {
        fail(std::move(found), std::move(allowed));
        return refuse(problem_);
    }

    const tinygltf::Model& model_;
    std::string file_;
    std::string place_;
    MeshShape mesh_;
    Problem problem_;
    std::size_t visited_ = 0;
};

// Pictures do not shape a rock: whatever they hold is left alone.
bool skip_image(tinygltf::Image* /*image*/, const int /*index*/, std::string* /*error*/,
                std::string* /*warning*/, int /*width*/, int /*height*/, const unsigned char* /*bytes*/,
                int /*size*/, void* /*user*/) {
    return true;
}

}  // namespace

Expected<MeshShape> parse_gltf(std::string_view bytes, const std::string& file, const std::string& place) {
    tinygltf::TinyGLTF loader;
    loader.SetImageLoader(skip_image, nullptr);
    tinygltf::Model model;
    std::string error;
    std::string warning;
    if (bytes.size() > (std::size_t{1} << 30U))
        return refuse({file, place, "more than 1 GiB", "a smaller glTF"});
    const bool binary = bytes.starts_with("glTF");
    bool loaded = false;
    try {  // the library's JSON may throw
        if (binary) {
            loaded = loader.LoadBinaryFromMemory(&model, &error, &warning,
                                                 reinterpret_cast<const unsigned char*>(bytes.data()),
                                                 static_cast<unsigned int>(bytes.size()));
        } else {
            const auto checked = parse_json(bytes, file);  // its nesting and its numbers, before the library
            if (!checked) return tl::unexpected<Problems>(checked.error());
            loaded = loader.LoadASCIIFromString(&model, &error, &warning, bytes.data(),
                                                static_cast<unsigned int>(bytes.size()), "");
        }
    } catch (const std::exception& thrown) {
        error = thrown.what();
    }
    if (!loaded) {
        return refuse({file, place, "a glTF mesh that cannot be read: " + error.substr(0, error.find('\n')),
                       "glTF 2.0 with its buffers inside the file"});
    }
    return Gltf(model, file, place).read();
}

}  // namespace dapple::scene
