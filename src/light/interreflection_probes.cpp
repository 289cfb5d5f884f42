#include "light/interreflection_probes.h"

#include <oneapi/tbb/blocked_range.h>
#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/task_arena.h>

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

double IndirectProbe::irradiance(const Vec3& normal) const {
    // The clamped cosine's own coefficients by order: pi, 2 pi / 3, pi / 4 (eq. 8).
    Harmonics cosine;
    cosine << std::numbers::pi, Eigen::Array3d::Constant(2 * std::numbers::pi / 3),
        Eigen::Array<double, 5, 1>::Constant(std::numbers::pi / 4);
    return std::max(0.0, (coefficients * cosine * harmonics(normal)).sum());
}

Vec3 IndirectProbe::flux() const {
    // w.a = (4 pi / 3) x the sum of Y1m(w) Y1m(a), with Y1m in the order y, z, x.
    return 0.488603 * 4 * std::numbers::pi / 3 * Vec3(coefficients[3], coefficients[1], coefficients[2]);
}

Probes::Probes(const Patches& patches, const Space& space, double turn, int rays, int probes)
    : patches_(patches), space_(space), turn_(turn), rays_(rays) {
    const Vec3 size = patches.box().max;
    const double inset = std::min(0.01, 0.1 * size.minCoeff());
    const double spacing = std::cbrt(size.prod() / probes);
    origin_ = Vec3::Constant(inset);
    for (int axis = 0; axis < 3; ++axis) {
        const double length = size[axis] - 2 * inset;
        auto& count = counts_[static_cast<std::size_t>(axis)];
        count = std::max(2, static_cast<int>(std::lround(length / spacing)) + 1);
        step_[axis] = length / (count - 1);
    }
    nodes_.resize(static_cast<std::size_t>(number({0, 0, counts_[2]})));
    free_.resize(nodes_.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, free_.size()), [&](const auto& range) {
        for (std::size_t n = range.begin(); n < range.end(); ++n) {
            free_[n] = patches.inside_furniture(node(static_cast<int>(n))) ? 0 : 1;
        }
    });
    if (std::find(free_.begin(), free_.end(), 0) != free_.end()) nearest_ = nearest_to_cells();
}

int Probes::number(const std::array<int, 3>& cell) const {
    return (cell[2] * counts_[1] + cell[1]) * counts_[0] + cell[0];
}

Vec3 Probes::node(int i) const {
    const int row = i / counts_[0];
    const int layer = row / counts_[1];
    return origin_ + Vec3(i % counts_[0], row % counts_[1], layer).cwiseProduct(step_);
}

Probes::Corners Probes::around(const Vec3& point) const {
    std::array<int, 3> low{};
    Vec3 part;
    for (int axis = 0; axis < 3; ++axis) {
        const auto a = static_cast<std::size_t>(axis);
        const double x = std::clamp((point[axis] - origin_[axis]) / step_[axis], 0.0, counts_[a] - 1.0);
        low[a] = std::min(static_cast<int>(x), counts_[a] - 2);
        part[axis] = x - low[a];
    }
    Corners result;
    double sum = 0;
    for (int corner = 0; corner < 8; ++corner) {
        double weight = 1;
        std::array<int, 3> cell = low;
        for (int axis = 0; axis < 3; ++axis) {
            const int up = (corner >> axis) & 1;
            cell[static_cast<std::size_t>(axis)] += up;
            weight *= up != 0 ? part[axis] : 1 - part[axis];
        }
        if (weight <= 0 || !is_free(number(cell))) continue;
        result.corners[static_cast<std::size_t>(result.count++)] = {number(cell), weight};
        sum += weight;
    }
    for (int i = 0; i < result.count; ++i) result.corners[static_cast<std::size_t>(i)].weight /= sum;
    if (result.count > 0) return result;
    result.corners[0] = {nearest_[static_cast<std::size_t>(number(low))], 1};
    result.count = result.corners[0].node < 0 ? 0 : 1;
    return result;
}

// The free node nearest to the middle of each cell; -1 where there is none. One of its corners, mostly, and all of them
// are as near: only cells that lie wholly within furniture have to look further.
std::vector<int> Probes::nearest_to_cells() const {
    std::vector<int> free_nodes;
    std::vector<Vec3> places;
    for (int n = 0; n < static_cast<int>(free_.size()); ++n) {
        if (!is_free(n)) continue;
        free_nodes.push_back(n);
        places.push_back(node(n));
    }
    std::vector<int> nearest_to(free_.size(), -1);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, free_.size()), [&](const auto& range) {
        for (std::size_t cell = range.begin(); cell < range.end(); ++cell) {
            const int lowest = static_cast<int>(cell);
            nearest_to[cell] = free_corner(lowest);
            if (nearest_to[cell] >= 0) continue;
            const Vec3 middle = node(lowest) + 0.5 * step_;
            double nearest = std::numeric_limits<double>::infinity();
            for (std::size_t i = 0; i < places.size(); ++i) {
                const double distance = (places[i] - middle).squaredNorm();
                if (distance >= nearest) continue;
                nearest = distance;
                nearest_to[cell] = free_nodes[i];
            }
        }
    });
    return nearest_to;
}

int Probes::free_corner(int lowest) const {
    const std::array<int, 3> low = {lowest % counts_[0], lowest / counts_[0] % counts_[1],
                                    lowest / counts_[0] / counts_[1]};
    for (int corner = 0; corner < 8; ++corner) {
        std::array<int, 3> cell = low;
        bool is_inside = true;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            cell[axis] += (corner >> axis) & 1;
            is_inside = is_inside && cell[axis] < counts_[axis];
        }
        if (is_inside && is_free(number(cell))) return number(cell);
    }
    return -1;
}

Probes::Node Probes::traced(int number) const {
    Node result;
    const Vec3 centre = node(number);
    result.harmonics.resize(Eigen::NoChange, rays_);
    Eigen::Index seen = 0;
    for (int i = 0; i < rays_; ++i) {
        const Vec3 direction = even_direction(i, rays_, turn_ + number);
        const Meeting meeting = space_.follow(centre, direction);
        if (meeting.patch < 0) continue;
        const bool coloured = space_.colours_light();
        const double arrives = coloured ? 1 : meeting.through[0];
        result.patch.push_back(meeting.patch);
        result.harmonics.col(seen++) = (arrives * harmonics(direction)).cast<float>();
        if (coloured) result.coloured.push_back(padded(meeting.through));
    }
    result.harmonics.conservativeResize(Eigen::NoChange, seen);
    result.traced = true;
    return result;
}

void Probes::trace(const std::vector<int>& nodes) const {
    const std::lock_guard lock(tracing_);
    // Isolated: while it waits, this thread must not take up other work that comes here, too.
    tbb::this_task_arena::isolate([&] {
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, nodes.size()), [&](const auto& range) {
            for (std::size_t i = range.begin(); i < range.end(); ++i) {
                Node& kept = nodes_[static_cast<std::size_t>(nodes[i])];
                if (!kept.traced) kept = traced(nodes[i]);
            }
        });
    });
}

std::vector<IndirectProbe> Probes::at(const std::vector<Lanes>& radiosity, const Bands& worth,
                                      std::span<const Vec3> points) const {
    std::vector<Corners> of(points.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.size(), 256), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) of[i] = around(points[i]);
    });
    std::vector<char> is_needed(nodes_.size(), 0);
    for (const Corners& corners : of) {
        for (int i = 0; i < corners.count; ++i) {
            is_needed[static_cast<std::size_t>(corners.corners[static_cast<std::size_t>(i)].node)] = 1;
        }
    }
    std::vector<int> needed;
    for (std::size_t n = 0; n < is_needed.size(); ++n) {
        if (is_needed[n] != 0) needed.push_back(static_cast<int>(n));
    }
    trace(needed);

    const Lanes lanes_worth = padded(worth);
    std::vector<float> of_patch;  // what a patch sends, in the quantity
    for (const Lanes& lanes : radiosity) of_patch.push_back((lanes * lanes_worth).sum());
    std::vector<IndirectProbe> probes(nodes_.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, needed.size(), 8), [&](const auto& range) {
        const FlushDenormals flush;
        Eigen::VectorXf sent;
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            const Node& kept = nodes_[static_cast<std::size_t>(needed[i])];
            sent.resize(static_cast<Eigen::Index>(kept.patch.size()));
            for (std::size_t s = 0; s < kept.patch.size(); ++s) {
                const auto patch = static_cast<std::size_t>(kept.patch[s]);
                sent[static_cast<Eigen::Index>(s)] =
                    kept.coloured.empty() ? of_patch[patch]
                                          : (kept.coloured[s] * radiosity[patch] * lanes_worth).sum();
            }
            const Eigen::Matrix<float, 9, 1> sum = kept.harmonics * sent;
            // Radiance is radiosity / pi; a ray stands for 4 pi / rays.
            probes[static_cast<std::size_t>(needed[i])].coefficients =
                sum.cast<double>().array() * (4.0 / rays_);
        }
    });

    std::vector<IndirectProbe> result(points.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.size(), 256), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            for (int c = 0; c < of[i].count; ++c) {
                const Corner& corner = of[i].corners[static_cast<std::size_t>(c)];
                result[i].coefficients +=
                    corner.weight * probes[static_cast<std::size_t>(corner.node)].coefficients;
            }
        }
    });
    return result;
}

}  // namespace dapple::light
