#include "light/fast_direct.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "light/attenuation.h"
#include "light/emission.h"
#include "light/facing.h"

namespace dapple::light {

using scene::Vec3;
using spectrum::Spectrum;

namespace {

constexpr int strips_on_grids = 3;   // of a tube in shadow: 0.05 % RMS of a field (bench/README.md)
constexpr int chords_on_grids = 6;
constexpr double surface_slack_on_grids = 2e-5;  // m; single precision needs more than surface_slack

void copy(const Vec3& from, float* to) {
    for (int i = 0; i < 3; ++i) to[i] = static_cast<float>(from[i]);
}

KernelLamp compile(const scene::Lamp& lamp) {
    KernelLamp out;
    copy(lamp.centre, out.centre);
    Vec3 reach = Vec3::Zero();
    if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) {
        out.emission = KernelEmission::tube;
        copy(tube->along, out.along);
        copy(tube->aim, out.aim);
        out.half_length = static_cast<float>(tube->length / 2);
        out.radius = static_cast<float>(tube->diameter / 2);
        out.forward_power = static_cast<float>(tube->forward_power);
        out.pieces = strips_on_grids;
        reach = tube->length / 2 * tube->along.cwiseAbs() + Vec3::Constant(tube->diameter / 2);
    } else if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) {
        const Emission emission = emission_of(*spot);
        copy(emission.along, out.along);
        copy(spot->aim, out.aim);
        out.k = static_cast<float>(spot->k);
        out.radius = static_cast<float>(spot->diameter / 2);
        out.emission = spot->diameter > 0 ? KernelEmission::disc : KernelEmission::points;
        out.pieces = chords_on_grids;
        out.count = 1;
        reach = Vec3::Constant(spot->diameter / 2);
    } else if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) {
        out.emission = KernelEmission::points;
        copy(bar->along, out.along);
        copy(bar->aim, out.aim);
        out.k = static_cast<float>(bar->k);
        out.half_length = static_cast<float>(bar->length / 2);
        out.count = bar->count;
        reach = bar->length / 2 * bar->along.cwiseAbs();
    }
    copy(lamp.centre - reach, out.lo);
    copy(lamp.centre + reach, out.hi);
    return out;
}

KernelLamp half_of(KernelLamp lamp, int part) {
    const float shift = (part == 0 ? -0.5F : 0.5F) * lamp.half_length;
    for (int i = 0; i < 3; ++i) {
        const float middle = lamp.centre[i] + shift * lamp.along[i];
        const float reach = lamp.half_length / 2 * std::abs(lamp.along[i]) + lamp.radius;
        lamp.centre[i] = middle;
        lamp.lo[i] = middle - reach;
        lamp.hi[i] = middle + reach;
    }
    lamp.half_length /= 2;
    return lamp;
}

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

bool beyond(const scene::Enclosure& enclosure, const KernelLamp& lamp) {
    for (int i = 0; i < 3; ++i) {
        if (lamp.lo[i] < 0 || static_cast<double>(lamp.hi[i]) > enclosure.size[i]) return true;
    }
    return false;
}

bool has_photometry(const scene::Lamp& lamp) {
    const auto* spot = std::get_if<scene::Spot>(&lamp.shape);
    const auto* bar = std::get_if<scene::Bar>(&lamp.shape);
    return (spot != nullptr && spot->photometry) || (bar != nullptr && bar->photometry);
}

template <class Function>
void in_parallel(std::size_t count, std::size_t grain, const Function& function) {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, grain),
                      [&](const auto& range) { function(range.begin(), range.end()); });
}

}  // namespace

PointSet::PointSet(std::span<const Vec3> points) : size_(points.size()) {
    const std::size_t n = (points.size() + kernel_block - 1) / kernel_block * kernel_block;
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
    : enclosure_(enclosure), exact_(exact), back_weight_(back_polynomial()), panes_(exact.panes().count()) {
    for (const auto& furniture : enclosure.furniture) {
        if (const auto body = make_body(furniture, surface_slack_on_grids)) {
            furniture_.push_back(convert<float>(*body));
        } else {
            triangles_ = true;
        }
    }
    furniture_and_walls_ = furniture_;
    for (const Body& wall : wall_bodies(enclosure)) furniture_and_walls_.push_back(convert<float>(wall));
    for (const auto& screen : enclosure.screens) {
        KernelScreen out;
        out.body = convert<float>(make_body(screen));
        out.axis = screen.normal_axis;
        const auto* mesh = std::get_if<scene::Mesh>(&screen.kind);
        if (screen.transmittance) {
            out.transmittance = static_cast<float>(*screen.transmittance);
        } else if (mesh != nullptr) {
            out.wire_over_pitch = static_cast<float>(mesh->wire / mesh->pitch);
        }
        screens_.push_back(out);
    }
    for (const auto& leaves : enclosure.foliage) {
        const Body body = std::visit([](const auto& shape) { return make_body(shape, 0.0); }, leaves.shape);
        foliage_.push_back({convert<float>(body), static_cast<float>(0.5 * leaves.leaf_area_density)});
    }
    for (const auto& lamp : enclosure.lamps) {
        lamps_.push_back(compile(lamp));
        outside_.push_back(beyond(enclosure, lamps_.back()));
    }
}

bool FastDirect::exact_only(int lamp) const {
    const auto bodies = static_cast<int>(furniture_and_walls_.size());
    const auto dimmers = static_cast<int>(std::max(screens_.size(), foliage_.size()));
    return triangles_ || panes_ > 1 || bodies > kernel_most_bodies || dimmers > kernel_most_dimmers ||
           has_photometry(enclosure_.lamps[static_cast<std::size_t>(lamp)]);
}

int FastDirect::parts(int lamp) const {
    const bool tube = lamps_[static_cast<std::size_t>(lamp)].emission == KernelEmission::tube;
    return tube && enclosure_.lamps.size() > 1 && !exact_only(lamp) ? 2 : 1;
}

void FastDirect::run(const KernelLamp& lamp, const KernelPoints& points, std::size_t count, const KernelResult& result,
                     const Spectrum& weighted) const {
    std::vector<KernelScreen> screens = screens_;
    std::vector<std::vector<float>> tables;
    tables.reserve(screens.size());
    for (std::size_t i = 0; i < screens.size(); ++i) {
        const int pane = exact_.panes().pane_of(i);
        if (pane < 0) continue;
        std::vector<float> table;
        for (int step = 0; step <= pane_table_steps; ++step) {
            const PaneCrossing crossing{pane, static_cast<double>(step) / pane_table_steps};
            table.push_back(static_cast<float>(exact_.panes().transmittance({&crossing, 1}, weighted)));
        }
        tables.push_back(std::move(table));
        screens[i].table = tables.back().data();
    }
    const auto& bodies = beyond(enclosure_, lamp) ? furniture_and_walls_ : furniture_;
    const KernelScene scene{bodies.data(),          static_cast<int>(bodies.size()),
                            screens.data(),         static_cast<int>(screens.size()),
                            foliage_.data(),        static_cast<int>(foliage_.size())};
    const KernelFunction kernel = best_kernel();
    in_parallel(count / kernel_block, 8, [&](std::size_t from, std::size_t to) {
        kernel(scene, lamp, points, result, from * kernel_block, to * kernel_block);
    });
}

Flux FastDirect::flux(int lamp, int part, const PointSet& points, const Spectrum& weighted) const {
    const std::size_t n = points.padded();
    Flux flux{std::vector<float>(n), std::vector<float>(n), std::vector<float>(n)};
    if (exact_only(lamp)) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                Vec3 sum = Vec3::Zero();
                for (const Sample& sample : exact_.samples(lamp, points.at(i))) {
                    sum += sample.weight * exact_.panes().transmittance(sample.crossed, weighted) * sample.direction;
                }
                flux.x[i] = static_cast<float>(sum.x());
                flux.y[i] = static_cast<float>(sum.y());
                flux.z[i] = static_cast<float>(sum.z());
            }
        });
        return flux;
    }
    KernelLamp whole = lamps_[static_cast<std::size_t>(lamp)];
    if (parts(lamp) == 2) whole = half_of(whole, part);
    KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    run(whole, in, n, {flux.x.data(), flux.y.data(), flux.z.data()}, weighted);
    return flux;
}

std::vector<float> FastDirect::planar(int lamp, const PointSet& points, const PointSet& normals,
                                      const Spectrum& weighted) const {
    std::vector<float> out(points.padded());
    if (exact_only(lamp)) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                const Transport transport = exact_.planar(lamp, points.at(i), normals.at(i));
                const double whole = weighted.sum();
                out[i] = static_cast<float>(
                    transport.through.empty() || !(whole > 0)
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
    run(lamps_[static_cast<std::size_t>(lamp)], in, points.padded(), {out.data(), nullptr, nullptr}, weighted);
    return out;
}

std::vector<float> FastDirect::back(int lamp, const PointSet& points, const Spectrum& weighted) const {
    std::vector<float> out(points.padded());
    if (exact_only(lamp)) {
        in_parallel(points.size(), 16, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                double sum = 0;
                for (const Sample& sample : exact_.samples(lamp, points.at(i))) {
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
    run(lamps_[static_cast<std::size_t>(lamp)], in, points.padded(), {out.data(), nullptr, nullptr}, weighted);
    return out;
}

}  // namespace dapple::light
