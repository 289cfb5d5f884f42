#include "light/triangle_shadows.h"

#include <embree3/rtcore.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace dapple::light {

using scene::Vec3;

struct TriangleShadows::State {
    RTCDevice device = nullptr;
    RTCScene scene = nullptr;
    scene::Box bounds{Vec3::Constant(1e30), Vec3::Constant(-1e30)};

    State() : device(rtcNewDevice(nullptr)), scene(rtcNewScene(device)) {
        rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    }
    ~State() {
        rtcReleaseScene(scene);
        rtcReleaseDevice(device);
    }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    void add(const scene::MeshShape& mesh) {
        RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
            geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.vertices.size()));
        for (std::size_t i = 0; i < mesh.vertices.size(); ++i) {
            for (int k = 0; k < 3; ++k)
                vertices[3 * i + static_cast<std::size_t>(k)] = static_cast<float>(mesh.vertices[i][k]);
            bounds.min = bounds.min.cwiseMin(mesh.vertices[i]);
            bounds.max = bounds.max.cwiseMax(mesh.vertices[i]);
        }
        auto* corners = static_cast<unsigned*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0,
                                                                       RTC_FORMAT_UINT3, 3 * sizeof(unsigned),
                                                                       mesh.triangles.size()));
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            for (std::size_t k = 0; k < 3; ++k)
                corners[3 * i + k] = static_cast<unsigned>(mesh.triangles[i][k]);
        }
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(scene, geometry);
        rtcReleaseGeometry(geometry);
    }
};

namespace {

// A place on a mesh must not be shaded by the triangle it lies on.
constexpr float start = 1e-4F;
constexpr float end = 1.0F - 1e-5F;

void occluded_for_kernel(const void* meshes, KernelRays& rays, int count) {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
    alignas(64) int valid[16];
    RTCRay16 packet;
    for (int i = 0; i < 16; ++i) {
        const int k = std::min(i, count - 1);
        const float x = rays.way[0][k], y = rays.way[1][k], z = rays.way[2][k];
        valid[i] = i < count ? -1 : 0;
        packet.org_x[i] = rays.from[0][k];
        packet.org_y[i] = rays.from[1][k];
        packet.org_z[i] = rays.from[2][k];
        packet.dir_x[i] = x;
        packet.dir_y[i] = y;
        packet.dir_z[i] = z;
        packet.tnear[i] = start / std::sqrt(std::max(x * x + y * y + z * z, 1e-12F));
        packet.tfar[i] = end;
        packet.time[i] = 0;
        packet.mask[i] = 0xFFFFFFFFU;
        packet.id[i] = 0;
        packet.flags[i] = 0;
    }
    rtcOccluded16(valid, static_cast<RTCScene>(const_cast<void*>(meshes)), &context, &packet);
    for (int i = 0; i < count; ++i) rays.visible[i] = packet.tfar[i] < 0 ? 0.0F : 1.0F;
}

}  // namespace

TriangleShadows::TriangleShadows() : state_(std::make_unique<State>()) {}
TriangleShadows::~TriangleShadows() = default;

std::unique_ptr<TriangleShadows> TriangleShadows::of(const scene::Enclosure& enclosure) {
    std::unique_ptr<TriangleShadows> shadows;
    for (const scene::Furniture& furniture : enclosure.furniture) {
        const auto* mesh = std::get_if<scene::MeshShape>(&furniture.shape);
        if (mesh == nullptr || mesh->triangles.empty()) continue;
        if (!shadows) shadows.reset(new TriangleShadows());
        shadows->state_->add(*mesh);
    }
    if (shadows) rtcCommitScene(shadows->state_->scene);
    return shadows;
}

const scene::Box& TriangleShadows::bounds() const {
    return state_->bounds;
}

KernelMeshes TriangleShadows::for_kernel() const {
    return {state_->scene, occluded_for_kernel,
            convert<float>(make_body(scene::BoxShape{state_->bounds, Vec3::Zero()}, -1e-4))};
}

bool TriangleShadows::hidden(const Vec3& from, const Vec3& to) const {
    const Vec3 d = to - from;
    const double length = d.norm();
    RTCRay ray{};
    ray.org_x = static_cast<float>(from.x());
    ray.org_y = static_cast<float>(from.y());
    ray.org_z = static_cast<float>(from.z());
    ray.dir_x = static_cast<float>(d.x());
    ray.dir_y = static_cast<float>(d.y());
    ray.dir_z = static_cast<float>(d.z());
    ray.tnear = start / static_cast<float>(std::max(length, 1e-9));
    ray.tfar = end;
    ray.mask = 0xFFFFFFFFU;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    context.flags = RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
    rtcOccluded1(state_->scene, &context, &ray);
    return ray.tfar < 0;
}

void TriangleShadows::hidden(const Vec3& from, std::span<const Vec3> to, std::span<bool> hidden) const {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
    alignas(64) int valid[16];
    RTCRay16 rays;
    for (std::size_t begin = 0; begin < to.size(); begin += 16) {
        const std::size_t n = std::min<std::size_t>(16, to.size() - begin);
        for (std::size_t i = 0; i < 16; ++i) {
            valid[i] = i < n ? -1 : 0;
            const Vec3 d = to[begin + std::min(i, n - 1)] - from;
            rays.org_x[i] = static_cast<float>(from.x());
            rays.org_y[i] = static_cast<float>(from.y());
            rays.org_z[i] = static_cast<float>(from.z());
            rays.dir_x[i] = static_cast<float>(d.x());
            rays.dir_y[i] = static_cast<float>(d.y());
            rays.dir_z[i] = static_cast<float>(d.z());
            rays.tnear[i] = start / static_cast<float>(std::max(d.norm(), 1e-9));
            rays.tfar[i] = end;
            rays.time[i] = 0;
            rays.mask[i] = 0xFFFFFFFFU;
            rays.id[i] = static_cast<unsigned>(i);
            rays.flags[i] = 0;
        }
        rtcOccluded16(valid, state_->scene, &context, &rays);
        for (std::size_t i = 0; i < n; ++i) hidden[begin + i] = rays.tfar[i] < 0;
    }
}

}  // namespace dapple::light
