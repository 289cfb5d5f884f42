// What reflected light costs and how noisy it is: a room of 120 x 60 x 60 cm with white walls, an open top, 50
// pieces of furniture and a tube below the top. Direct light is a row of points without shadows, so that the times
// are those of the rays and the exchange alone.
#include "light/interreflection.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <memory>
#include <random>

#include "light/interreflection_solve.h"

namespace {

using namespace dapple;
using scene::Vec3;

scene::Enclosure furnished_room() {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(0, 1);
    scene::Enclosure room;
    room.size = Vec3(1.2, 0.6, 0.6);
    for (auto& wall : room.walls) wall = spectrum::gray("white", 0.7);
    room.walls[static_cast<std::size_t>(scene::Face::top)].reset();
    scene::Lamp lamp;
    lamp.centre = Vec3(0.6, 0.3, 0.56);
    lamp.shape = scene::Tube{0.85, 0.016, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    room.lamps.push_back(lamp);
    for (int i = 0; i < 50; ++i) {
        const Vec3 at(0.08 + 1.04 * unit(random), 0.08 + 0.44 * unit(random), 0.35 * unit(random));
        const Vec3 half(0.02 + 0.05 * unit(random), 0.02 + 0.04 * unit(random), 0.01 + 0.03 * unit(random));
        const Vec3 turn(0, 0, unit(random));
        scene::Furniture piece;
        piece.material = spectrum::gray("stone", 0.3);
        if (i % 3 == 0) piece.shape = scene::BoxShape{{at - half, at + half}, turn};
        if (i % 3 == 1) piece.shape = scene::CylinderShape{at - half, at + half, 0.03, turn};
        if (i % 3 == 2) piece.shape = scene::EllipsoidShape{at, half, turn};
        room.furniture.push_back(piece);
    }
    return room;
}

void shine(int /*lamp*/, std::span<const Vec3> points, std::span<const Vec3> normals,
           std::span<light::Bands> out) {
    constexpr int parts = 16;
    for (std::size_t i = 0; i < points.size(); ++i) {
        double sum = 0;
        for (int k = 0; k < parts; ++k) {
            const Vec3 way = Vec3(0.6 + 0.85 * ((k + 0.5) / parts - 0.5), 0.3, 0.56) - points[i];
            const double distance = way.norm();
            const double sine = way.tail<2>().norm() / distance;
            sum += sine * std::max(0.0, normals[i].dot(way)) / std::pow(distance, 3) * 0.85 / parts;
        }
        out[i].setConstant(sum);
    }
}

double looking_up(const light::Interreflection& light, const Vec3& point, int rays) {
    double sum = 0;
    for (const auto& packet : light.gather(0, point, rays)) {
        sum += packet.weight[0] * std::max(0.0, packet.direction.z());
    }
    return sum;
}

std::vector<Vec3> places() {
    std::vector<Vec3> points;
    for (int i = 0; i < 12; ++i) {
        for (int k = 0; k < 5; ++k) points.emplace_back(0.05 + 0.1 * i, 0.06 + 0.12 * k, 0.42);
    }
    return points;
}

void build(benchmark::State& state) {
    const auto room = furnished_room();
    int patches = 0;
    int reflections = 0;
    for (auto _ : state) {
        const light::Interreflection light(room, shine);
        patches = light.patches();
        reflections = light.iterations();
    }
    state.counters["patches"] = patches;
    state.counters["rays"] = patches * 64.0;
    state.counters["reflections"] = reflections;
}
BENCHMARK(build)->Unit(benchmark::kMillisecond)->UseRealTime();

void cut_into_patches(benchmark::State& state) {
    const auto room = furnished_room();
    for (auto _ : state) benchmark::DoNotOptimize(light::Patches(room, 0.05).count());
}
BENCHMARK(cut_into_patches)->Unit(benchmark::kMillisecond)->UseRealTime();

void trace(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Patches patches(room, 0.05);
    const light::Space space(room, patches);
    std::size_t entries = 0;
    for (auto _ : state) entries = light::FormFactors(patches, space, 64, 1).entries();
    state.counters["entries"] = static_cast<double>(entries);
    state.counters["rays/s"] =
        benchmark::Counter(patches.count() * 64.0, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(trace)->Unit(benchmark::kMillisecond)->UseRealTime();

void one_reflection(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Patches patches(room, 0.05);
    const light::Space space(room, patches);
    const light::FormFactors factors(patches, space, 64, 1);
    const std::vector<light::Lanes> from(static_cast<std::size_t>(patches.count()), light::Lanes::Ones());
    std::vector<light::Lanes> into;
    for (auto _ : state) factors.reflect(from, into);
}
BENCHMARK(one_reflection)->Unit(benchmark::kMicrosecond)->UseRealTime();

void relight(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Interreflection light(room, shine);
    const std::vector<int> anew(room.lamps.size(), -1);
    for (auto _ : state) benchmark::DoNotOptimize(light.relit(shine, anew).iterations());
}
BENCHMARK(relight)->Unit(benchmark::kMillisecond)->UseRealTime();

// Looking up, in the first band.
std::vector<double> by_probes(const light::Interreflection& light, const std::vector<Vec3>& points) {
    light::Bands worth = light::Bands::Zero();
    worth[0] = 1;
    std::vector<double> values;
    for (const auto& probe : light.probes(0, worth, points))
        values.push_back(probe.irradiance(Vec3::UnitZ()));
    return values;
}

void gather(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Interreflection light(room, shine);
    const auto points = places();
    std::size_t next = 0;
    for (auto _ : state) benchmark::DoNotOptimize(looking_up(light, points[next++ % points.size()], 2048));
}
BENCHMARK(gather)->Unit(benchmark::kMillisecond)->UseRealTime();

void probe(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Interreflection light(room, shine);
    const auto points = places();
    benchmark::DoNotOptimize(by_probes(light, points)[0]);  // traces what the probes see
    for (auto _ : state) benchmark::DoNotOptimize(by_probes(light, points)[0]);
}
BENCHMARK(probe)->Unit(benchmark::kMillisecond)->UseRealTime();

// Relative RMS error of the horizontal irradiance at 60 places, against 1024 rays a patch of half the width and 65536
// gathered rays a place; listed points and probes. Looking up in this room, reflected light is the smaller part: the
// probes' error is given as a part of all light, too.
void noise(benchmark::State& state) {
    const auto room = furnished_room();
    const light::Interreflection careful(room, shine,
                                         {.rays_per_patch = 1024, .patch_size = 0.03, .seed = 99});
    const auto points = places();
    std::vector<double> truth;
    std::vector<light::Bands> direct(points.size());
    shine(0, points, std::vector<Vec3>(points.size(), Vec3::UnitZ()), direct);
    for (const auto& point : points) truth.push_back(looking_up(careful, point, 65536));
    double gathered = 0;
    double probed = 0;
    double probed_of_all = 0;
    for (auto _ : state) {
        const light::Interreflection light(room, shine);
        gathered = probed = probed_of_all = 0;
        const auto all_probed = by_probes(light, points);
        for (std::size_t i = 0; i < points.size(); ++i) {
            gathered += std::pow(looking_up(light, points[i], 2048) / truth[i] - 1, 2);
            const double by_probe = all_probed[i];
            probed += std::pow(by_probe / truth[i] - 1, 2);
            probed_of_all += std::pow((by_probe - truth[i]) / (truth[i] + direct[i][0]), 2);
        }
    }
    const auto n = static_cast<double>(points.size());
    state.counters["gather_rms_%"] = 100 * std::sqrt(gathered / n);
    state.counters["probe_rms_%"] = 100 * std::sqrt(probed / n);
    state.counters["probe_rms_of_all_%"] = 100 * std::sqrt(probed_of_all / n);
}
BENCHMARK(noise)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
