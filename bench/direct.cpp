// The direct field's speed and error: 24,000 to 28,800 points of a furnished enclosure under one tube, all cores, against
// sampling the tube with Embree shadow rays at the same error. Usage:
//
//   bench_direct                         boxes strewn in a room: against Embree, and scaling with their number
//   bench_direct SCENE.json POINTS.f32   one scene; leaves its points (float32 x, y, z in cm) for other programs
//                                        (reference/peers/ratios.py runs both)
//
// Error: RMS of a thinned set of the points against 16,384 samples over the tube's length and width (equal energy along
// it), as a share of the field's mean.
#include <embree3/rtcore.h>
#include <fmt/format.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <cmath>
#include <fstream>
#include <random>

#include "light/embree.h"
#include "light/fast_direct.h"
#include "pairs.h"
#include "scene/document.h"

namespace {

using namespace dapple;
using light::Direct;
using light::FastDirect;
using light::PointSet;
using scene::Vec3;

// Points on a lattice of the box, in tiles of 8 x 8 so that neighbours are culled together, 2 mm off furniture.
std::vector<Vec3> lattice(const scene::Enclosure& enclosure, int nx, int ny, int nz) {
    std::vector<light::Body> bodies;
    for (const auto& piece : enclosure.furniture) {
        if (const auto body = light::make_body(piece, -0.002)) bodies.push_back(*body);
    }
    std::vector<Vec3> points;
    for (int k = 0; k < nz; ++k) {
        for (int tile_y = 0; tile_y < ny; tile_y += 8) {
            for (int tile_x = 0; tile_x < nx; tile_x += 8) {
                for (int j = tile_y; j < std::min(ny, tile_y + 8); ++j) {
                    for (int i = tile_x; i < std::min(nx, tile_x + 8); ++i) {
                        points.emplace_back(enclosure.size.x() * (i + 0.5) / nx,
                                            enclosure.size.y() * (j + 0.5) / ny,
                                            0.75 * enclosure.size.z() * (k + 0.5) / nz);
                    }
                }
            }
        }
    }
    std::erase_if(points, [&](const Vec3& p) {
        return std::any_of(bodies.begin(), bodies.end(),
                           [&](const light::Body& body) { return light::contains(body, p); });
    });
    return points;
}

// One place on the tube as seen from a point: u along it in equal energy, v across it.
struct TubeSampler {
    Vec3 centre, axis;
    double half, radius;
    Vec3 aim;
    double forward_power;  // negative: all round

    // Irradiance of an upward receiver from the place, divided by its chance; and the place itself.
    std::pair<double, Vec3> operator()(const Vec3& x, double u, double v) const {
        const Vec3 r = centre - x;
        const double foot = -r.dot(axis);
        const Vec3 to_axis = r + foot * axis;
        const double distance = to_axis.norm();
        const Vec3 e = to_axis / distance;
        auto sine = [&](double s) { return (s - foot) / std::hypot(s - foot, distance); };
        const double s0 = sine(-half), s1 = sine(half);
        const double sin_alpha = s0 + (s1 - s0) * u,
                     cos_alpha = std::sqrt(std::max(1e-12, 1 - sin_alpha * sin_alpha));
        const Vec3 w = cos_alpha * e + sin_alpha * axis;
        const Vec3 place =
            centre + (foot + distance * sin_alpha / cos_alpha) * axis + radius * (2 * v - 1) * axis.cross(e);
        const double spread = forward_power < 0 ? 1.0 : std::pow(std::max(0.0, -e.dot(aim)), forward_power);
        return {spread * std::max(0.0, w.z()) * (s1 - s0) / distance, place};
    }
};

TubeSampler sampler_of(const scene::Lamp& lamp) {
    const auto& tube = std::get<scene::Tube>(lamp.shape);
    return {lamp.centre, tube.along, tube.length / 2, tube.diameter / 2, tube.aim, tube.forward_power};
}

// The furniture as triangles for Embree.
struct Triangles {
    RTCDevice device = rtcNewDevice(nullptr);
    RTCScene scene = rtcNewScene(device);

    explicit Triangles(const scene::Enclosure& enclosure) {
        for (const auto& piece : enclosure.furniture) {
            const auto body = light::make_body(piece);
            if (!body || body->kind != light::BodyKind::box) continue;
            RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
            auto* vertex = static_cast<float*>(
                rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 12, 8));
            const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> frame(body->frame);
            for (int i = 0; i < 8; ++i) {
                const Vec3 corner((i & 1 ? 1 : -1) * body->half[0], (i & 2 ? 1 : -1) * body->half[1],
                                  (i & 4 ? 1 : -1) * body->half[2]);
                const Vec3 p =
                    Vec3(body->centre[0], body->centre[1], body->centre[2]) + frame.transpose() * corner;
                for (int k = 0; k < 3; ++k) vertex[3 * i + k] = static_cast<float>(p[k]);
            }
            auto* index = static_cast<unsigned*>(
                rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 12, 12));
            const unsigned faces[6][4] = {{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                          {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}};
            for (std::size_t f = 0; f < 6; ++f) {
                const unsigned* c = faces[f];
                const unsigned corners[6] = {c[0], c[1], c[2], c[0], c[2], c[3]};
                std::copy(corners, corners + 6, index + 6 * f);
            }
            rtcCommitGeometry(geometry);
            rtcAttachGeometry(scene, geometry);
            rtcReleaseGeometry(geometry);
        }
        rtcCommitScene(scene);
    }
    ~Triangles() {
        rtcReleaseScene(scene);
        rtcReleaseDevice(device);
    }
    Triangles(const Triangles&) = delete;
    Triangles& operator=(const Triangles&) = delete;

    // Irradiance of upward receivers by `rays` (a multiple of 16) stratified shadow rays a point, 16 to a packet.
    void sample(const TubeSampler& tube, const std::vector<Vec3>& points, int rays,
                std::vector<float>& out) const {
        out.resize(points.size());
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.size(), 128), [&](const auto& range) {
            std::minstd_rand random(static_cast<unsigned>(range.begin()) + 1U);
            std::uniform_real_distribution<double> unit(0, 1);
            RTCIntersectContext context;
            rtcInitIntersectContext(&context);
            context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
            alignas(64) int valid[16];
            std::fill(valid, valid + 16, -1);
            for (std::size_t p = range.begin(); p < range.end(); ++p) {
                const Vec3& x = points[p];
                double sum = 0;
                for (int first = 0; first < rays; first += 16) {
                    RTCRay16 packet{};
                    float value[16];
                    for (int i = 0; i < 16; ++i) {
                        const double u = (first + i + unit(random)) / rays;
                        const double v = std::fmod((first + i) * 0.6180339887 + unit(random) / rays, 1.0);
                        const auto [e, place] = tube(x, u, v);
                        value[i] = static_cast<float>(e);
                        packet.org_x[i] = static_cast<float>(x.x());
                        packet.org_y[i] = static_cast<float>(x.y());
                        packet.org_z[i] = static_cast<float>(x.z());
                        packet.dir_x[i] = static_cast<float>(place.x() - x.x());
                        packet.dir_y[i] = static_cast<float>(place.y() - x.y());
                        packet.dir_z[i] = static_cast<float>(place.z() - x.z());
                        packet.tnear[i] = 1e-5F;
                        packet.tfar[i] = 1;
                        packet.mask[i] = 0xFFFFFFFFU;
                    }
                    rtcOccluded16(valid, scene, &context, &packet);
                    for (int i = 0; i < 16; ++i)
                        sum += packet.tfar[i] >= 0 ? static_cast<double>(value[i]) : 0.0;
                }
                out[p] = static_cast<float>(sum / rays);
            }
        });
    }
};

struct Checked {  // a thinned set of points with the value of 16,384 samples each
    std::vector<std::size_t> index;
    std::vector<double> value;
    double mean = 0;

    double rms(const std::vector<float>& field) const {
        double sum = 0;
        for (std::size_t i = 0; i < index.size(); ++i)
            sum += std::pow(static_cast<double>(field[index[i]]) - value[i], 2);
        return std::sqrt(sum / static_cast<double>(index.size())) / mean;
    }
};

bool blocked(const std::vector<light::Body>& bodies, const Vec3& x, const Vec3& p) {
    // A segment is a line of no length seen from x.
    const Vec3 across = (p - x).unitOrthogonal();
    for (const auto& body : bodies) {
        const auto i = light::shadow_of(
            body, light::Triple<double>{x.x(), x.y(), x.z()}, light::Triple<double>{p.x(), p.y(), p.z()},
            light::Triple<double>{across.x(), across.y(), across.z()}, -1e-9, 1e-9);
        if (i.lo < i.hi && i.lo <= 0 && i.hi >= 0) return true;
    }
    return false;
}

Checked check_values(const scene::Enclosure& enclosure, const TubeSampler& tube,
                     const std::vector<Vec3>& points) {
    std::vector<light::Body> bodies;
    for (const auto& piece : enclosure.furniture) bodies.push_back(*light::make_body(piece));
    Checked checked;
    for (std::size_t i = 7; i < points.size(); i += 37) checked.index.push_back(i);
    checked.value.resize(checked.index.size());
    tbb::parallel_for(std::size_t{0}, checked.index.size(), [&](std::size_t i) {
        const Vec3& x = points[checked.index[i]];
        constexpr int along = 512, across = 32;
        const Vec3 reach = tube.half * tube.axis.cwiseAbs() + Vec3::Constant(tube.radius);
        const Vec3 low = tube.centre - reach, high = tube.centre + reach;
        std::vector<light::Body> between;
        for (const auto& body : bodies) {
            if (light::may_stand_between(body, x.data(), x.data(), low.data(), high.data()))
                between.push_back(body);
        }
        double sum = 0;
        for (int a = 0; a < along; ++a) {
            // Each row is shifted by the golden ratio, or an edge along the tube would be seen to a 32nd only.
            const double shift = std::fmod(0.6180339887 * a, 1.0);
            for (int c = 0; c < across; ++c) {
                const auto [e, place] = tube(x, (a + (c + 0.5) / across) / along, (c + shift) / across);
                if (!blocked(between, x, place)) sum += e;
            }
        }
        checked.value[i] = sum / (along * across);
    });
    for (const double v : checked.value) checked.mean += v / static_cast<double>(checked.value.size());
    return checked;
}

// Boxes strewn over the lower two thirds, for scaling.
scene::Enclosure strewn(int pieces, unsigned seed) {
    scene::Enclosure enclosure;
    enclosure.size = Vec3(1.2, 0.6, 0.6);
    scene::Lamp lamp;
    lamp.centre = Vec3(0.6, 0.3, 0.56);
    lamp.shape = scene::Tube{0.85, 0.016, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    lamp.spectrum.relative = spectrum::constant(1);
    enclosure.lamps.push_back(lamp);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> u(0, 1);
    for (int i = 0; i < pieces; ++i) {
        const Vec3 centre(1.2 * u(random), 0.6 * u(random), 0.4 * u(random));
        const double size =
            std::cbrt(50.0 / pieces);  // the same share of the room is filled whatever their number
        const Vec3 half =
            size * Vec3(0.015 + 0.045 * u(random), 0.015 + 0.045 * u(random), 0.01 + 0.03 * u(random));
        scene::Furniture piece;
        piece.shape = scene::BoxShape{{centre - half, centre + half}, Vec3::Zero()};
        enclosure.furniture.push_back(piece);
    }
    return enclosure;
}

void measure(const std::string& name, const scene::Enclosure& enclosure, bool peers) {
    const auto points = lattice(enclosure, 48, 24, 25);
    const TubeSampler tube = sampler_of(enclosure.lamps[0]);
    const Checked checked = check_values(enclosure, tube, points);
    const Direct exact(enclosure);
    const FastDirect fast(enclosure, exact);
    const PointSet set(points), normals(std::vector<Vec3>(points.size(), Vec3::UnitZ()));
    const spectrum::Spectrum flat = spectrum::constant(1);
    std::vector<float> ours;
    const auto field = [&] { ours = fast.planar(0, set, normals, flat); };
    field();
    const double error = checked.rms(ours);
    if (!peers) {
        const double t = bench::in_turn({field}, 41)[0];
        fmt::print("{:28} {:4} bodies  ours {:.3f} ms  error {:.3f} %\n", name, enclosure.furniture.size(),
                   1e3 * t, 100 * error);
        return;
    }
    const Triangles triangles(enclosure);
    std::vector<float> sixteen, equal;
    int rays = 16;
    triangles.sample(tube, points, 16, sixteen);
    for (triangles.sample(tube, points, rays, equal); checked.rms(equal) > error && rays < 4096; rays *= 2) {
        triangles.sample(tube, points, 2 * rays, equal);
    }
    const auto t = bench::in_turn({field, [&] { triangles.sample(tube, points, 16, sixteen); },
                                   [&] { triangles.sample(tube, points, rays, equal); }},
                                  15);
    double one_core = 0;
    {
        const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
        one_core = bench::in_turn({field}, 21)[0];
    }
    fmt::print("{:28} {:4} bodies  {} points\n", name, enclosure.furniture.size(), points.size());
    fmt::print("    ours             {:9.3f} ms  error {:.3f} %\n", 1e3 * t[0], 100 * error);
    fmt::print("    Embree, 16 rays  {:9.3f} ms  error {:.3f} %   ours {:.1f} times faster\n", 1e3 * t[1],
               100 * checked.rms(sixteen), t[1] / t[0]);
    fmt::print("    Embree, {} rays {:9.3f} ms  error {:.3f} %   ours {:.1f} times faster at equal error\n",
               rays, 1e3 * t[2], 100 * checked.rms(equal), t[2] / t[0]);
    fmt::print("    two cores are {:.2f} times one ({:.3f} ms)\n", one_core / t[0], 1e3 * one_core);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 3) {
        const auto enclosure = scene::load_enclosure(argv[1]);
        if (!enclosure) {
            fmt::print(stderr, "{}", to_text(enclosure.error()));
            return 2;
        }
        std::ofstream out(argv[2], std::ios::binary);
        for (const Vec3& point : lattice(*enclosure, 48, 24, 25)) {
            for (int k = 0; k < 3; ++k) {
                const auto cm = static_cast<float>(100 * point[k]);
                out.write(reinterpret_cast<const char*>(&cm), sizeof cm);
            }
        }
        measure(enclosure->id, *enclosure, false);
        return out.good() ? 0 : 1;
    }
    fmt::print("kernel {}\n", light::best_kernel_name());
    for (const unsigned seed : {1U, 2U, 3U}) {
        measure(fmt::format("50 boxes, seed {}", seed), strewn(50, seed), true);
    }
    for (const int pieces : {20, 50, 100, 200, 400}) measure("scaling", strewn(pieces, 5), false);
    return 0;
}
