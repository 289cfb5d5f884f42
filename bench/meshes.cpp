// Triangle meshes: the direct field of a tube among rocks of many triangles, in rays a second, against Embree's bare
// packets over the same rocks. Usage: bench_meshes
//
// "Bare" is the faster of two ways to hand Embree nothing but packets that lie ready in memory: sixteen rays from one
// point to places along the tube, and rays from sixteen neighbouring points to one place.
#include <embree3/rtcore.h>
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <atomic>
#include <cmath>
#include <random>

#include "light/fast_direct.h"
#include "light/triangle_shadows.h"
#include "pairs.h"

namespace {

using namespace dapple;
using scene::Vec3;

// A rock: a sphere of rings x rings quadrilaterals whose radius waves.
scene::MeshShape rock(const Vec3& centre, double radius, int rings, double waves) {
    scene::MeshShape mesh;
    for (int i = 0; i <= rings; ++i) {
        for (int j = 0; j < 2 * rings; ++j) {
            const double theta = M_PI * i / rings, phi = M_PI * j / rings;
            const double r = radius * (1 + 0.1 * std::sin(waves * phi) * std::sin(waves * theta));
            mesh.vertices.push_back(centre + r * Vec3(std::sin(theta) * std::cos(phi),
                                                      std::sin(theta) * std::sin(phi), std::cos(theta)));
        }
    }
    const auto at = [&](int i, int j) { return 2 * rings * i + j % (2 * rings); };
    for (int i = 0; i < rings; ++i) {
        for (int j = 0; j < 2 * rings; ++j) {
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    }
    return mesh;
}

scene::Enclosure rocks(int count, int rings) {
    scene::Enclosure enclosure;
    enclosure.size = Vec3(1.2, 0.6, 0.6);
    scene::Lamp lamp;
    lamp.centre = Vec3(0.6, 0.3, 0.56);
    lamp.shape = scene::Tube{0.85, 0.016, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    lamp.spectrum.relative = spectrum::constant(1);
    enclosure.lamps.push_back(lamp);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> u(0, 1);
    for (int i = 0; i < count; ++i) {
        scene::Furniture piece;
        piece.shape = rock(Vec3(1.2 * u(random), 0.6 * u(random), 0.3 * u(random)), 0.04 + 0.05 * u(random),
                           rings, 3 + i);
        enclosure.furniture.push_back(piece);
    }
    return enclosure;
}

std::vector<Vec3> tiles() {
    std::vector<Vec3> points;
    for (int k = 0; k < 25; ++k) {
        for (int y = 0; y < 24; y += 8) {
            for (int x = 0; x < 40; x += 8) {
                for (int j = y; j < y + 8; ++j) {
                    for (int i = x; i < x + 8; ++i)
                        points.emplace_back(1.2 * (i + 0.5) / 40, 0.6 * (j + 0.5) / 24,
                                            0.45 * (k + 0.5) / 25);
                }
            }
        }
    }
    return points;
}

std::atomic<std::size_t> asked{0};
light::KernelMeshes counted_meshes;

void count_and_ask(const void* meshes, light::KernelRays& rays, int count) {
    asked += static_cast<std::size_t>(count);
    counted_meshes.occluded(meshes, rays, count);
}

struct Field {
    light::CompiledScene scene;
    light::KernelMeshes meshes;
    light::PointSet points;
    std::vector<float> up, out;

    Field(const scene::Enclosure& enclosure, const light::TriangleShadows& shadows,
          const std::vector<Vec3>& at)
        : scene(enclosure), meshes(shadows.for_kernel()), points(at), up(at.size(), 1.0F), out(at.size()) {
        level.resize(at.size(), 0.0F);
    }
    void run(const light::KernelMeshes& with) {
        light::KernelPoints in;
        in.x = points.x.data();
        in.y = points.y.data();
        in.z = points.z.data();
        in.nx = in.ny = level.data();
        in.nz = up.data();
        light::KernelScene view = scene.view(scene.lamps[0], scene.screens);
        view.meshes = with;
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.padded() / 64, 8),
                          [&](const auto& range) {
                              light::best_kernel()(view, scene.lamps[0], in, {out.data(), nullptr, nullptr},
                                                   64 * range.begin(), 64 * range.end());
                          });
    }
    std::vector<float> level;
};

using Packets = std::vector<RTCRay16>;

void set(RTCRay16& packet, std::size_t i, const Vec3& from, const Vec3& to) {
    const Vec3 way = to - from;
    packet.org_x[i] = static_cast<float>(from.x());
    packet.org_y[i] = static_cast<float>(from.y());
    packet.org_z[i] = static_cast<float>(from.z());
    packet.dir_x[i] = static_cast<float>(way.x());
    packet.dir_y[i] = static_cast<float>(way.y());
    packet.dir_z[i] = static_cast<float>(way.z());
    packet.tnear[i] = 1e-4F;
    packet.tfar[i] = 1;
    packet.time[i] = 0;
    packet.mask[i] = 0xFFFFFFFFU;
}

void ask_all(RTCScene scene, const Packets& packets) {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, packets.size(), 64), [&](const auto& range) {
        RTCIntersectContext context;
        rtcInitIntersectContext(&context);
        context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
        alignas(64) int valid[16];
        std::fill(valid, valid + 16, -1);
        for (std::size_t p = range.begin(); p < range.end(); ++p) {
            RTCRay16 packet = packets[p];
            rtcOccluded16(valid, scene, &context, &packet);
        }
    });
}

}  // namespace

int main() {
    for (const int count : {4, 12, 30}) {
        const auto enclosure = rocks(count, 40);
        const auto points = tiles();
        const auto shadows = light::TriangleShadows::of(enclosure);
        Field field(enclosure, *shadows, points);
        counted_meshes = field.meshes;
        light::KernelMeshes counting = field.meshes;
        counting.occluded = count_and_ask;
        asked = 0;
        field.run(counting);
        const auto rays = static_cast<double>(asked.load());

        const auto& tube = std::get<scene::Tube>(enclosure.lamps[0].shape);
        const auto place = [&](double u) {
            return Vec3(enclosure.lamps[0].centre + tube.length * (u - 0.5) * tube.along);
        };
        Packets from_one(points.size()), to_one(points.size());
        for (std::size_t p = 0; p < points.size(); ++p) {
            for (std::size_t i = 0; i < 16; ++i) {
                set(from_one[p], i, points[p], place((static_cast<double>(i) + 0.5) / 16));
                const std::size_t block = p / 16 * 16;
                set(to_one[p], i, points[block + i], place((static_cast<double>(p % 16) + 0.5) / 16));
            }
        }
        const auto scene = static_cast<RTCScene>(const_cast<void*>(field.meshes.meshes));
        const auto t = bench::in_turn({[&] { field.run(field.meshes); }, [&] { ask_all(scene, from_one); },
                                       [&] { ask_all(scene, to_one); }},
                                      21);
        const double ours = rays / t[0], one = 16.0 * static_cast<double>(points.size()) / t[1],
                     neighbours = 16.0 * static_cast<double>(points.size()) / t[2];
        fmt::print(
            "{:3} rocks of 6,400 triangles: {:.1f} rays a point, field {:.1f} ms = {:.1f} Mrays/s; bare "
            "packets {:.1f} "
            "(from one point) and {:.1f} (to one place) Mrays/s; ours is {:.0f} % of the faster\n",
            count, rays / static_cast<double>(points.size()), 1e3 * t[0], 1e-6 * ours, 1e-6 * one,
            1e-6 * neighbours, 100 * ours / std::max(one, neighbours));
    }
    return 0;
}
