#include "light/fast_direct.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "light/facing.h"
#include "light/triangle_shadows.h"

namespace dapple::light {

using scene::Vec3;
using spectrum::Spectrum;

namespace {

constexpr int reflected_chords = 5;  // of a disc

// The back receiver's weight as a polynomial in the cosine with the zenith, by least squares; off by < 2e-4.
std::vector<float> back_polynomial() {
    constexpr int terms = 11, samples = 400;
    Eigen::MatrixXd powers(samples, terms);
    Eigen::VectorXd weights(samples);
    for (int i = 0; i < samples; ++i) {
        const double c = std::cos(M_PI * (i + 0.5) / samples);
        weights[i] = back_weight(c);
        for (int k = 0; k < terms; ++k) powers(i, k) = std::pow(c, k);
    }
    const Eigen::VectorXd fit = powers.colPivHouseholderQr().solve(weights);
    return {fit.data(), fit.data() + terms};
}

template <class Function>
void in_parallel(std::size_t count, std::size_t grain, const Function& function) {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, grain),
                      [&](const auto& range) { function(range.begin(), range.end()); });
}

}  // namespace

PointSet::PointSet(std::span<const Vec3> points) : size_(points.size()) {
    const std::size_t n = (points.size() + kernel_padding - 1) / kernel_padding * kernel_padding;
    x.resize(n);
    y.resize(n);
    z.resize(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Vec3& p = points[std::min(i, points.size() - 1)];
        x[i] = static_cast<float>(p.x());
        y[i] = static_cast<float>(p.y());
        z[i] = static_cast<float>(p.z());
    }
}

FastDirect::FastDirect(const scene::Enclosure& enclosure, const Direct& exact)
    : enclosure_(enclosure), exact_(exact), scene_(enclosure), back_weight_(back_polynomial()) {}

bool FastDirect::exact_only() const {
    return !scene_.kernel_can_follow() || exact_.panes().count() > 1;
}

int FastDirect::parts(int lamp) const {
    const bool tube = scene_.lamps[static_cast<std::size_t>(lamp)].emission == KernelEmission::tube;
    return tube && scene_.lamps.size() > 1 && !exact_only() ? 2 : 1;
}

void FastDirect::run(const KernelLamp& lamp, const KernelPoints& points, std::size_t count,
                     const KernelResult& result, const Spectrum& weighted) const {
    std::vector<KernelScreen> screens = scene_.screens;
    const auto tables = pane_tables(exact_.panes(), weighted);
    for (std::size_t i = 0; i < screens.size(); ++i) {
        const int pane = exact_.panes().pane_of(i);
        if (pane >= 0) screens[i].table = tables[static_cast<std::size_t>(pane)].data();
    }
    KernelScene scene = scene_.view(lamp, screens);
    if (exact_.triangles() != nullptr) scene.meshes = exact_.triangles()->for_kernel();
    const KernelFunction kernel = best_kernel();
    in_parallel((count + kernel_block - 1) / kernel_block, 8, [&](std::size_t from, std::size_t to) {
        kernel(scene, lamp, points, result, from * kernel_block, std::min(to * kernel_block, count));
    });
}

Flux FastDirect::flux(int lamp, int part, const PointSet& points, const Spectrum& weighted) const {
    const std::size_t n = points.padded();
    Flux flux{std::vector<float>(n), std::vector<float>(n), std::vector<float>(n)};
    if (exact_only()) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                Vec3 sum = Vec3::Zero();
                for (const Sample& sample : exact_.samples(lamp, points.at(i), fine_enough_for_a_grid)) {
                    sum += sample.weight * exact_.panes().transmittance(sample.crossed, weighted) *
                           sample.direction;
                }
                flux.x[i] = static_cast<float>(sum.x());
                flux.y[i] = static_cast<float>(sum.y());
                flux.z[i] = static_cast<float>(sum.z());
            }
        });
        return flux;
    }
    KernelLamp whole = scene_.lamps[static_cast<std::size_t>(lamp)];
    if (parts(lamp) == 2) whole = half_of(whole, part);
    KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    run(whole, in, n, {flux.x.data(), flux.y.data(), flux.z.data()}, weighted);
    return flux;
}

std::vector<float> FastDirect::planar(int lamp, const PointSet& points, const PointSet& normals,
                                      const Spectrum& weighted, Grain grain) const {
    std::vector<float> out(points.padded());
    if (exact_only()) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                const Transport transport =
                    exact_.planar(lamp, points.at(i), normals.at(i), fine_enough_for_a_grid);
                const double whole = weighted.sum();
                out[i] =
                    static_cast<float>(transport.through.empty() || !(whole > 0)
                                           ? transport.clear
                                           : (exact_.panes().factor(transport) * weighted).sum() / whole);
            }
        });
        return out;
    }
    KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    in.nx = normals.x.data();
    in.ny = normals.y.data();
    in.nz = normals.z.data();
    KernelLamp shape = scene_.lamps[static_cast<std::size_t>(lamp)];
    if (grain == Grain::reflected && shape.emission == KernelEmission::disc) shape.pieces = reflected_chords;
    if (grain == Grain::reflected && shape.emission == KernelEmission::tube) shape.pieces = 0;
    run(shape, in, points.padded(), {out.data(), nullptr, nullptr}, weighted);
    return out;
}

std::vector<float> FastDirect::back(int lamp, const PointSet& points, const Spectrum& weighted) const {
    std::vector<float> out(points.padded());
    if (exact_only()) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                double sum = 0;
                for (const Sample& sample : exact_.samples(lamp, points.at(i), fine_enough_for_a_grid)) {
                    sum += sample.weight * exact_.panes().transmittance(sample.crossed, weighted) *
                           back_weight(sample.direction.z());
                }
                out[i] = static_cast<float>(sum);
            }
        });
        return out;
    }
    KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    in.back = back_weight_.data();
    in.back_terms = static_cast<int>(back_weight_.size());
    run(scene_.lamps[static_cast<std::size_t>(lamp)], in, points.padded(), {out.data(), nullptr, nullptr},
        weighted);
    return out;
}

}  // namespace dapple::light
