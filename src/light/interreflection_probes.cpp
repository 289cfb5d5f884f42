#include "light/interreflection_probes.h"

#include <oneapi/tbb/blocked_range.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "light/interreflection_denormals.h"
#include "light/interreflection_sampling.h"

namespace dapple::light {

namespace {

using scene::Vec3;
using Harmonics = Eigen::Array<double, 9, 1>;

// Real spherical harmonics up to the second order (Ramamoorthi & Hanrahan 2001, eq. 3).
Harmonics harmonics(const Vec3& w) {
    const double x = w.x();
    const double y = w.y();
    const double z = w.z();
    Harmonics h;
    h << 0.282095, 0.488603 * y, 0.488603 * z, 0.488603 * x, 1.092548 * x * y, 1.092548 * y * z,
        0.315392 * (3 * z * z - 1), 1.092548 * x * z, 0.546274 * (x * x - y * y);
    return h;
}

}  // namespace

Bands IndirectProbe::irradiance(const Vec3& normal) const {
    // The clamped cosine's own coefficients by order: pi, 2 pi / 3, pi / 4 (eq. 8).
    Harmonics cosine;
    cosine << std::numbers::pi, Eigen::Array3d::Constant(2 * std::numbers::pi / 3),
        Eigen::Array<double, 5, 1>::Constant(std::numbers::pi / 4);
    const Bands sum = (coefficients.matrix() * (cosine * harmonics(normal)).matrix()).array();
    return sum.max(0.0);
}

Bands IndirectProbe::flux_component(const Vec3& axis) const {
    // w.a = (4 pi / 3) x the sum of Y1m(w) Y1m(a).
    const Harmonics h = harmonics(axis);
    return (coefficients.middleCols<3>(1).matrix() * h.segment<3>(1).matrix()).array() *
           (4 * std::numbers::pi / 3);
}

Probes::Probes(const Patches& patches, const Space& space, const std::vector<Radiosity>& by_lamp, double turn,
               int rays, int probes) {
    const Vec3 size = patches.box().max;
    const double inset = std::min(0.01, 0.1 * size.minCoeff());
    const double spacing = std::cbrt(size.prod() / probes);
    origin_ = Vec3::Constant(inset);
    for (int axis = 0; axis < 3; ++axis) {
        const double length = size[axis] - 2 * inset;
        auto& nodes = nodes_[static_cast<std::size_t>(axis)];
        nodes = std::max(2, static_cast<int>(std::lround(length / spacing)) + 1);
        step_[axis] = length / (nodes - 1);
    }
    const std::size_t total = number({0, 0, nodes_[2]});
    free_.assign(total, 1);
    IndirectProbe nothing;
    nothing.coefficients.setZero();
    probe_.assign(by_lamp.size(), std::vector<IndirectProbe>(total, nothing));
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, total), [&](const auto& range) {
        const FlushDenormals flush;
        for (std::size_t n = range.begin(); n < range.end(); ++n) {
            const Vec3 centre = node(static_cast<int>(n));
            free_[n] = patches.inside_furniture(centre) ? 0 : 1;
            if (free_[n] == 0) continue;
            for (int i = 0; i < rays; ++i) {
                const Vec3 direction = even_direction(i, rays, turn + static_cast<double>(n));
                const Meeting meeting = space.follow(centre, direction);
                if (meeting.patch < 0) continue;
                // Radiance is radiosity / pi; a ray stands for 4 pi / rays.
                const Harmonics h = harmonics(direction);
                for (std::size_t lamp = 0; lamp < by_lamp.size(); ++lamp) {
                    const Bands radiosity =
                        unpadded(by_lamp[lamp].all[static_cast<std::size_t>(meeting.patch)]);
                    const Bands weight = meeting.through * radiosity * (4.0 / rays);
                    probe_[lamp][n].coefficients += (weight.matrix() * h.matrix().transpose()).array();
                }
            }
        }
    });
}

std::size_t Probes::number(const std::array<int, 3>& cell) const {
    const auto whole = [](int i) { return static_cast<std::size_t>(i); };
    return (whole(cell[2]) * whole(nodes_[1]) + whole(cell[1])) * whole(nodes_[0]) + whole(cell[0]);
}

Vec3 Probes::node(int i) const {
    const int row = i / nodes_[0];
    const int layer = row / nodes_[1];
    return origin_ + Vec3(i % nodes_[0], row % nodes_[1], layer).cwiseProduct(step_);
}

IndirectProbe Probes::at(int lamp, const Vec3& point) const {
    const auto& probes = probe_[static_cast<std::size_t>(lamp)];
    std::array<int, 3> low{};
    Vec3 part;
    for (int axis = 0; axis < 3; ++axis) {
        const auto a = static_cast<std::size_t>(axis);
        const double x = std::clamp((point[axis] - origin_[axis]) / step_[axis], 0.0, nodes_[a] - 1.0);
        low[a] = std::min(static_cast<int>(x), nodes_[a] - 2);
        part[axis] = x - low[a];
    }
    IndirectProbe mixed_probe;
    mixed_probe.coefficients.setZero();
    double sum = 0;
    for (int corner = 0; corner < 8; ++corner) {
        double weight = 1;
        std::array<int, 3> cell = low;
        for (int axis = 0; axis < 3; ++axis) {
            const int up = (corner >> axis) & 1;
            cell[static_cast<std::size_t>(axis)] += up;
            weight *= up != 0 ? part[axis] : 1 - part[axis];
        }
        if (weight <= 0 || free_[number(cell)] == 0) continue;
        mixed_probe.coefficients += weight * probes[number(cell)].coefficients;
        sum += weight;
    }
    if (sum > 0) {
        mixed_probe.coefficients /= sum;
        return mixed_probe;
    }
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t n = 0; n < free_.size(); ++n) {
        const double distance = (node(static_cast<int>(n)) - point).squaredNorm();
        if (free_[n] == 0 || distance >= nearest) continue;
        nearest = distance;
        mixed_probe = probes[n];
    }
    return mixed_probe;
}

}  // namespace dapple::light
