#include "light/panes.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <mutex>

#include "light/attenuation.h"

namespace dapple::light {

using spectrum::Spectrum;

namespace {

// Steps equal in the cosine; linear between them the transmittance of glass is off by less than 1e-4 where the
// cosine exceeds 0.1.
constexpr std::uint32_t cosine_steps = 128;
constexpr std::uint32_t stride = cosine_steps + 1;

using Table = std::vector<Spectrum>;

std::shared_ptr<const Table> table_of(const spectrum::Optics& optics, double thickness) {
    Table table = {spectrum::constant(0)};  // grazing light is reflected
    for (std::uint32_t step = 1; step <= cosine_steps; ++step) {
        table.push_back(
            spectrum::pane_transmittance(optics, thickness, static_cast<double>(step) / cosine_steps));
    }
    return std::make_shared<const Table>(std::move(table));
}

// Rooms are made of few kinds of pane, and a fit or a report makes many rooms of the same: the tables of the last few
// kinds (2.4 MB each) are kept.
std::shared_ptr<const Table> shared_table(const spectrum::Optics& optics, double thickness) {
    struct Kept {
        spectrum::Optics optics;
        double thickness;
        std::shared_ptr<const Table> table;
    };
    constexpr std::size_t most_kept = 8;
    static std::mutex mutex;
    static std::deque<Kept> kept;
    const auto found = [&] {
        return std::find_if(kept.begin(), kept.end(), [&](const Kept& one) {
            return one.thickness == thickness && (one.optics.index == optics.index).all() &&
                   (one.optics.absorption_per_m == optics.absorption_per_m).all();
        });
    };
    {
        const std::lock_guard lock(mutex);
        if (const auto one = found(); one != kept.end()) return one->table;
    }
    auto table = table_of(optics, thickness);
    const std::lock_guard lock(mutex);
    if (const auto one = found(); one != kept.end()) return one->table;
    kept.push_front({optics, thickness, table});
    if (kept.size() > most_kept) kept.pop_back();
    return table;
}

}  // namespace

Panes::Panes(const scene::Enclosure& enclosure) {
    for (const scene::Screen& screen : enclosure.screens) {
        if (!is_spectral(screen)) {
            pane_of_.push_back(-1);
            continue;
        }
        pane_of_.push_back(count());
        const auto& pane = std::get<scene::Pane>(screen.kind);
        tables_.push_back(shared_table(*pane.material.optics, pane.thickness));
    }
}

void Panes::add(Transport& transport, double weight, std::span<const PaneCrossing> crossed) const {
    if (crossed.empty()) {
        transport.clear += weight;
        return;
    }
    // Each pane's cosine lies between two steps; every combination gets its share.
    for (std::uint32_t corner = 0; corner < (1U << crossed.size()); ++corner) {
        double share = weight;
        std::vector<std::uint32_t> steps;
        for (std::size_t i = 0; i < crossed.size(); ++i) {
            const double position = std::clamp(crossed[i].cosine, 0.0, 1.0) * cosine_steps;
            const auto below = std::min(static_cast<std::uint32_t>(position), cosine_steps - 1);
            const double rest = position - below;
            const bool upper = (corner >> i) & 1U;
            share *= upper ? rest : 1 - rest;
            steps.push_back(static_cast<std::uint32_t>(crossed[i].pane) * stride + below + (upper ? 1 : 0));
        }
        if (share == 0) continue;
        std::sort(steps.begin(), steps.end());
        transport.through[steps] += share;
    }
}

const Spectrum& Panes::at(std::uint32_t step) const {
    return (*tables_[step / stride])[step % stride];
}

Spectrum Panes::of_steps(const std::vector<std::uint32_t>& steps) const {
    Spectrum product = at(steps.front());
    for (std::size_t i = 1; i < steps.size(); ++i) product *= at(steps[i]);
    return product;
}

Spectrum Panes::factor(const Transport& transport) const {
    Spectrum sum = spectrum::constant(transport.clear);
    for (const auto& [steps, weight] : transport.through) sum += weight * of_steps(steps);
    return sum;
}

Bands Panes::factor(const Transport& transport, const Spectrum& lamp) const {
    if (transport.through.empty()) return Bands::Constant(transport.clear);
    return weighted_band_means(factor(transport), lamp);
}

double Panes::transmittance(std::span<const PaneCrossing> crossed, const Spectrum& weighted) const {
    if (crossed.empty()) return 1;
    const double whole = weighted.sum();
    if (!(whole > 0)) return 0;
    Transport one;
    add(one, 1, crossed);
    double sum = 0;
    for (const auto& [steps, weight] : one.through) {
        sum += weight * (steps.size() == 1 ? (at(steps.front()) * weighted).sum()
                                           : (of_steps(steps) * weighted).sum());
    }
    return sum / whole;
}

std::vector<double> Panes::transmittances(int pane, const Spectrum& weighted) const {
    std::vector<double> all(stride, 0);
    const double whole = weighted.sum();
    if (!(whole > 0)) return all;
    // A quantity, and still more a band, is a small part of the axis.
    Eigen::Index first = 0;
    Eigen::Index end = weighted.size();
    while (weighted[first] == 0) ++first;
    while (weighted[end - 1] == 0) --end;
    const auto part = weighted.segment(first, end - first);
    const Table& table = *tables_[static_cast<std::size_t>(pane)];
    for (std::size_t step = 0; step < all.size(); ++step) {
        all[step] = (table[step].segment(first, end - first) * part).sum() / whole;
    }
    return all;
}

Bands weighted_band_means(const Spectrum& s, const Spectrum& weight) {
    Bands means;
    for (int b = 0; b < bands; ++b) {
        const int from = band_edges_nm[static_cast<std::size_t>(b)] - spectrum::first_nm;
        const int to = band_edges_nm[static_cast<std::size_t>(b) + 1] - spectrum::first_nm;
        const auto w = weight.segment(from, to - from);
        const auto v = s.segment(from, to - from);
        const double whole = w.sum();
        means[b] = whole > 0 ? (v * w).sum() / whole : v.mean();
    }
    return means;
}

}  // namespace dapple::light
