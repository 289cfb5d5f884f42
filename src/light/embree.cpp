#include "light/embree.h"

#include <embree3/rtcore.h>

#include <cassert>
#include <vector>

namespace dapple::light {

namespace {

using scene::Vec3;

struct DeviceRelease {
    void operator()(RTCDeviceTy* device) const { rtcReleaseDevice(device); }
};
struct SceneRelease {
    void operator()(RTCSceneTy* scene) const { rtcReleaseScene(scene); }
};

// A ray that starts on a surface does not meet it again within this many metres.
constexpr double nearest_hit = 1e-6;

// All bodies are one Embree geometry; its callbacks see this.
struct Bodies {
    std::vector<Body> bodies;
    std::vector<int> furniture;  // body -> furniture
};

constexpr unsigned bodies_geometry = 0;  // meshes follow it

void bounds_of_body(const RTCBoundsFunctionArguments* arguments) {
    const auto& body = static_cast<const Bodies*>(arguments->geometryUserPtr)->bodies[arguments->primID];
    const double slack = 1e-5;  // rounding to single precision must not cut the body
    RTCBounds& box = *arguments->bounds_o;
    box.lower_x = static_cast<float>(body.lo[0] - slack);
    box.lower_y = static_cast<float>(body.lo[1] - slack);
    box.lower_z = static_cast<float>(body.lo[2] - slack);
    box.upper_x = static_cast<float>(body.hi[0] + slack);
    box.upper_y = static_cast<float>(body.hi[1] + slack);
    box.upper_z = static_cast<float>(body.hi[2] + slack);
}

std::optional<BodyCrossing> meet(const Body& body, RTCRayN* rays, unsigned n, unsigned i) {
    const auto d = [](float x) { return static_cast<double>(x); };
    const Vec3 origin(d(RTCRayN_org_x(rays, n, i)), d(RTCRayN_org_y(rays, n, i)),
                      d(RTCRayN_org_z(rays, n, i)));
    const Vec3 direction(d(RTCRayN_dir_x(rays, n, i)), d(RTCRayN_dir_y(rays, n, i)),
                         d(RTCRayN_dir_z(rays, n, i)));
    return first_crossing(body, origin, direction, d(RTCRayN_tnear(rays, n, i)), d(RTCRayN_tfar(rays, n, i)));
}

void intersect_body(const RTCIntersectFunctionNArguments* arguments) {
    const auto& body = static_cast<const Bodies*>(arguments->geometryUserPtr)->bodies[arguments->primID];
    const unsigned n = arguments->N;
    RTCRayN* rays = RTCRayHitN_RayN(arguments->rayhit, n);
    RTCHitN* hits = RTCRayHitN_HitN(arguments->rayhit, n);
    for (unsigned i = 0; i < n; ++i) {
        if (arguments->valid[i] == 0) continue;
        const auto crossing = meet(body, rays, n, i);
        if (!crossing) continue;
        RTCRayN_tfar(rays, n, i) = static_cast<float>(crossing->distance);
        RTCHitN_u(hits, n, i) =
            static_cast<float>(crossing->part);  // u and v carry what a hit cannot say else
        RTCHitN_v(hits, n, i) = crossing->inside ? 1.0F : 0.0F;
        RTCHitN_geomID(hits, n, i) = arguments->geomID;
        RTCHitN_primID(hits, n, i) = arguments->primID;
        RTCHitN_instID(hits, n, i, 0) = arguments->context->instID[0];
    }
}

void attach_bodies(RTCDevice device, RTCScene scene, Bodies& bodies) {
    RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_USER);
    rtcSetGeometryUserPrimitiveCount(geometry, static_cast<unsigned>(bodies.bodies.size()));
    rtcSetGeometryUserData(geometry, &bodies);
    rtcSetGeometryBoundsFunction(geometry, bounds_of_body, nullptr);
    rtcSetGeometryIntersectFunction(geometry, intersect_body);
    rtcCommitGeometry(geometry);
    rtcAttachGeometryByID(scene, geometry, bodies_geometry);
    rtcReleaseGeometry(geometry);
}

void attach_mesh(RTCDevice device, RTCScene scene, const scene::MeshShape& mesh, unsigned id) {
    RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.vertices.size()));
    auto* indices = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(unsigned), mesh.triangles.size()));
    for (const Vec3& vertex : mesh.vertices) {
        for (int axis = 0; axis < 3; ++axis) *vertices++ = static_cast<float>(vertex[axis]);
    }
    for (const auto& triangle : mesh.triangles) {
        for (const int corner : triangle) *indices++ = static_cast<unsigned>(corner);
    }
    rtcCommitGeometry(geometry);
    rtcAttachGeometryByID(scene, geometry, id);
    rtcReleaseGeometry(geometry);
}

RTCRay ray_of(const Vec3& origin, const Vec3& direction, double reach) {
    RTCRay ray{};
    ray.org_x = static_cast<float>(origin.x());
    ray.org_y = static_cast<float>(origin.y());
    ray.org_z = static_cast<float>(origin.z());
    ray.dir_x = static_cast<float>(direction.x());
    ray.dir_y = static_cast<float>(direction.y());
    ray.dir_z = static_cast<float>(direction.z());
    ray.tnear = static_cast<float>(nearest_hit);
    ray.tfar = static_cast<float>(reach);
    ray.mask = ~0U;
    return ray;
}

}  // namespace

struct FurnitureRays::State {
    // Destroyed in reverse order: the scene before its device and before the bodies its callbacks see.
    Bodies bodies;
    std::vector<int> mesh_furniture;              // mesh -> furniture
    std::vector<std::vector<Vec3>> mesh_normals;  // not normalised
    std::unique_ptr<RTCDeviceTy, DeviceRelease> device;
    std::unique_ptr<RTCSceneTy, SceneRelease> scene;

    FurnitureHit describe(const RTCRayHit& found) const;
};

FurnitureRays::FurnitureRays(std::span<const scene::Furniture> furniture)
    : state_(std::make_unique<State>()) {
    State& s = *state_;
    std::vector<const scene::MeshShape*> meshes;
    for (std::size_t i = 0; i < furniture.size(); ++i) {
        if (const auto* mesh = std::get_if<scene::MeshShape>(&furniture[i].shape)) {
            if (mesh->triangles.empty()) continue;
            meshes.push_back(mesh);
            s.mesh_furniture.push_back(static_cast<int>(i));
        } else {
            s.bodies.bodies.push_back(*make_body(furniture[i], 0));
            s.bodies.furniture.push_back(static_cast<int>(i));
        }
    }
    if (empty()) return;
    s.device.reset(rtcNewDevice(nullptr));
    assert(s.device);
    s.scene.reset(rtcNewScene(s.device.get()));
    rtcSetSceneFlags(s.scene.get(), RTC_SCENE_FLAG_ROBUST);  // no ray slips between two triangles
    if (!s.bodies.bodies.empty()) attach_bodies(s.device.get(), s.scene.get(), s.bodies);
    for (std::size_t m = 0; m < meshes.size(); ++m) {
        attach_mesh(s.device.get(), s.scene.get(), *meshes[m], static_cast<unsigned>(m) + 1);
        auto& normals = s.mesh_normals.emplace_back();
        for (const auto& t : meshes[m]->triangles) {
            const auto corner = [&](int c) -> const Vec3& {
                return meshes[m]->vertices[static_cast<std::size_t>(t[static_cast<std::size_t>(c)])];
            };
            normals.emplace_back((corner(1) - corner(0)).cross(corner(2) - corner(0)));
        }
    }
    rtcCommitScene(s.scene.get());
}

FurnitureRays::~FurnitureRays() = default;
FurnitureRays::FurnitureRays(FurnitureRays&&) noexcept = default;
FurnitureRays& FurnitureRays::operator=(FurnitureRays&&) noexcept = default;

bool FurnitureRays::empty() const {
    return state_->bodies.bodies.empty() && state_->mesh_furniture.empty();
}

FurnitureHit FurnitureRays::State::describe(const RTCRayHit& found) const {
    const auto distance = static_cast<double>(found.ray.tfar);
    if (found.hit.geomID == bodies_geometry) {
        return {bodies.furniture[found.hit.primID], static_cast<int>(found.hit.u), -1, distance,
                found.hit.v > 0};
    }
    const std::size_t mesh = found.hit.geomID - 1;
    const Vec3& normal = mesh_normals[mesh][found.hit.primID];
    const Vec3 direction(static_cast<double>(found.ray.dir_x), static_cast<double>(found.ray.dir_y),
                         static_cast<double>(found.ray.dir_z));
    return {mesh_furniture[mesh], 0, static_cast<int>(found.hit.primID), distance, normal.dot(direction) > 0};
}

std::optional<FurnitureHit> FurnitureRays::first(const Vec3& origin, const Vec3& direction,
                                                 double reach) const {
    if (empty()) return std::nullopt;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    RTCRayHit query{};
    query.ray = ray_of(origin, direction, reach);
    query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    rtcIntersect1(state_->scene.get(), &context, &query);
    if (query.hit.geomID == RTC_INVALID_GEOMETRY_ID) return std::nullopt;
    return state_->describe(query);
}

}  // namespace dapple::light
