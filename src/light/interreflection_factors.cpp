#include "light/interreflection_factors.h"

#include <oneapi/tbb/blocked_range.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

#include "light/interreflection_denormals.h"
#include "light/interreflection_sampling.h"

namespace dapple::light {

namespace {

struct Entry {
    int column;
    Lanes share;
};

// Rays from one patch, gathered by what they end on.
std::vector<Entry> trace_row(const Patches& patches, const Space& space, int patch, int rays,
                             std::uint64_t key) {
    const EvenSequence sequence(key);
    std::vector<Entry> row;
    row.reserve(static_cast<std::size_t>(rays));
    double weight = 0;
    // Hidden places of the patch send nothing: others are drawn in their stead, within reason.
    const int most = 8 * rays;
    for (int i = 0, sent = 0; i < most && sent < rays; ++i) {
        const auto x = sequence.at(i);
        const SurfaceSample start = patches.sample(patch, x[0], x[1]);
        if (!patches.is_open(start)) continue;
        ++sent;
        weight += start.weight;
        const Meeting meeting = space.follow(start.point, cosine_direction(start.normal, x[2], x[3]));
        if (meeting.patch < 0) continue;
        row.push_back({meeting.patch, padded(start.weight * meeting.through)});
    }
    // By column, then in the order of the rays; keys are a tenth of an entry's size to move about.
    std::vector<std::uint64_t> order;
    order.reserve(row.size());
    for (std::size_t i = 0; i < row.size(); ++i) {
        order.push_back((static_cast<std::uint64_t>(row[i].column) << 32U) + i);
    }
    std::sort(order.begin(), order.end());
    std::vector<Entry> merged;
    for (const std::uint64_t key_of : order) {
        const Entry& entry = row[static_cast<std::uint32_t>(key_of)];
        const Lanes share = entry.share / static_cast<float>(weight);
        if (!merged.empty() && merged.back().column == entry.column) {
            merged.back().share += share;
        } else {
            merged.push_back({entry.column, share});
        }
    }
    return merged;
}

}  // namespace

Lanes padded(const Bands& values) {
    Lanes lanes = Lanes::Zero();
    lanes.head<bands>() = values.cast<float>();
    return lanes;
}

Bands unpadded(const Lanes& values) {
    return values.head<bands>().cast<double>();
}

FormFactors::FormFactors(const Patches& patches, const Space& space, int rays_per_patch, std::uint32_t seed) {
    const auto n = static_cast<std::size_t>(patches.count());
    std::vector<std::vector<Entry>> rows(n);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, n, 16), [&](const auto& range) {
        const FlushDenormals flush;
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            const std::uint64_t key = mixed((static_cast<std::uint64_t>(seed) << 32U) + i);
            rows[i] = trace_row(patches, space, static_cast<int>(i), rays_per_patch, key);
        }
    });
    row_.push_back(0);
    for (std::size_t i = 0; i < n; ++i) {
        reflectance_.push_back(padded(patches.reflectance(static_cast<int>(i))));
        for (const Entry& entry : rows[i]) {
            column_.push_back(entry.column);
            if (space.colours_light()) {
                colour_.push_back(entry.share);
            } else {
                share_.push_back(entry.share[0]);
            }
        }
        row_.push_back(column_.size());
    }
}

void FormFactors::reflect(const std::vector<Lanes>& from, std::vector<Lanes>& into) const {
    into.resize(from.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, from.size(), 64), [&](const auto& range) {
        const FlushDenormals flush;
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            Lanes sum = Lanes::Zero();
            for (std::size_t k = row_[i]; k < row_[i + 1]; ++k) {
                const Lanes& sender = from[static_cast<std::size_t>(column_[k])];
                if (colour_.empty()) {
                    sum += share_[k] * sender;
                } else {
                    sum += colour_[k] * sender;
                }
            }
            into[i] = reflectance_[i] * sum;
        }
    });
}

double FormFactors::between(int i, int j, int band) const {
    const auto row = static_cast<std::size_t>(i);
    const auto begin = column_.begin() + static_cast<std::ptrdiff_t>(row_[row]);
    const auto end = column_.begin() + static_cast<std::ptrdiff_t>(row_[row + 1]);
    const auto found = std::lower_bound(begin, end, j);
    if (found == end || *found != j) return 0;
    const auto k = static_cast<std::size_t>(found - column_.begin());
    return static_cast<double>(colour_.empty() ? share_[k] : colour_[k][band]);
}

}  // namespace dapple::light
