#include "light/aim.h"

#include <algorithm>

namespace dapple::light {

using scene::Vec3;

namespace {

constexpr int most_steps = 40;
constexpr double still = 1e-4;  // rad; E is flat at its summit, so its error is about the square of this

Vec3 flux_in_front(std::span<const Beam> beams, const Vec3& normal) {
    Vec3 sum = Vec3::Zero();
    for (const Beam& beam : beams) {
        if (beam.flux.dot(normal) > 0) sum += beam.flux;
    }
    return sum;
}

// Ascends from `start`; E there.
double ascend(std::span<const Beam> beams, const Vec3& start, Vec3& summit) {
    Vec3 n = start.normalized();
    for (int step = 0; step < most_steps; ++step) {
        const Vec3 flux = flux_in_front(beams, n);
        if (!(flux.squaredNorm() > 0)) break;
        const Vec3 next = flux.normalized();
        const bool settled = (next - n).squaredNorm() < still * still;
        n = next;
        if (settled) break;
    }
    summit = n;
    return irradiance(beams, n);
}

}  // namespace

double irradiance(std::span<const Beam> beams, const Vec3& normal) {
    double sum = 0;
    for (const Beam& beam : beams) sum += std::max(0.0, beam.flux.dot(normal));
    return sum;
}

Vec3 best_normal(std::span<const Beam> beams, std::span<const Vec3> starts) {
    Vec3 best = Vec3::UnitZ();
    double highest = irradiance(beams, best);
    for (const Vec3& start : starts) {
        if (!(start.squaredNorm() > 0)) continue;
        Vec3 n;
        const double value = ascend(beams, start, n);
        if (value > highest) {
            highest = value;
            best = n;
        }
    }
    return best;
}

double highest_irradiance(std::span<const Beam> beams, std::span<const Vec3> lamp_flux) {
    double highest = 0;
    Vec3 summit;
    auto from = [&](const Vec3& start) {
        if (start.squaredNorm() > 0) highest = std::max(highest, ascend(beams, start, summit));
    };
    Vec3 all = Vec3::Zero();
    for (const Vec3& flux : lamp_flux) all += flux;
    from(all);
    // One lamp alone is its own total. Six lamps have sixty-four combinations.
    if (lamp_flux.size() == 1) return highest;
    if (lamp_flux.size() > 6) {
        for (const Vec3& flux : lamp_flux) from(flux);
        return highest;
    }
    for (unsigned set = 1; set + 1 < (1U << lamp_flux.size()); ++set) {
        Vec3 sum = Vec3::Zero();
        for (std::size_t i = 0; i < lamp_flux.size(); ++i) {
            if ((set >> i) & 1U) sum += lamp_flux[i];
        }
        from(sum);
    }
    return highest;
}

std::vector<Vec3> starts_of(std::span<const Vec3> lamp_flux) {
    std::vector<Vec3> lit;
    for (const Vec3& flux : lamp_flux) {
        if (flux.squaredNorm() > 0) lit.push_back(flux);
    }
    std::vector<Vec3> starts;
    if (lit.size() <= 6) {
        for (unsigned set = 1; set < (1U << lit.size()); ++set) {
            Vec3 sum = Vec3::Zero();
            for (std::size_t i = 0; i < lit.size(); ++i) {
                if ((set >> i) & 1U) sum += lit[i];
            }
            starts.push_back(sum);
        }
        return starts;
    }
    Vec3 all = Vec3::Zero();
    for (const Vec3& flux : lit) all += flux;
    starts = lit;
    starts.push_back(all);
    return starts;
}

}  // namespace dapple::light
