// Any bytes as glTF, as text or binary: refused, or triangles whose corners exist.
#include "bytes.h"
#include "scene/mesh_file.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto mesh = scene::parse_gltf(fuzz::text(bytes, size), "fuzz.gltf");
    if (!mesh) return 0;
    for (const auto& triangle : mesh->triangles) {
        for (const int corner : triangle) {
            fuzz::promise(corner >= 0 && static_cast<std::size_t>(corner) < mesh->vertices.size(),
                          "a triangle's corner is a vertex");
        }
    }
    return 0;
}
