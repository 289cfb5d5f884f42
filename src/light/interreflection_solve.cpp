#include "light/interreflection_solve.h"

#include <utility>

namespace dapple::light {

namespace {

constexpr double negligible = 1e-3;
constexpr int longest = 2000;  // reached only between mirror-white walls without any opening

Bands flux(const Patches& patches, const std::vector<Lanes>& radiosity) {
    Bands sum = Bands::Zero();
    for (std::size_t i = 0; i < radiosity.size(); ++i) {
        sum += patches.area(static_cast<int>(i)) * unpadded(radiosity[i]);
    }
    return sum;
}

// Terms that shrink by a constant ratio q leave a tail of last x q / (1 - q).
bool is_negligible(const Bands& sum, const Bands& before, const Bands& last) {
    for (int b = 0; b < bands; ++b) {
        if (last[b] <= 0) continue;
        if (last[b] >= before[b]) return false;
        const double ratio = last[b] / before[b];
        if (last[b] * ratio / (1 - ratio) > negligible * sum[b]) return false;
    }
    return true;
}

}  // namespace

Radiosity solve(const Patches& patches, const FormFactors& factors, const std::vector<Lanes>& irradiance,
                int bounces) {
    Radiosity result;
    result.further.assign(irradiance.size(), Lanes::Zero());
    std::vector<Lanes> term;
    for (std::size_t i = 0; i < irradiance.size(); ++i) {
        term.emplace_back(padded(patches.reflectance(static_cast<int>(i))) * irradiance[i]);
    }
    result.all = term;
    result.reflections = 1;
    Bands last = flux(patches, term);
    Bands sum = last;
    std::vector<Lanes> next;
    while (bounces < 0 ? result.reflections < longest : result.reflections < bounces) {
        factors.reflect(term, next);
        std::swap(term, next);
        ++result.reflections;
        for (std::size_t i = 0; i < term.size(); ++i) {
            result.all[i] += term[i];
            result.further[i] += term[i];
        }
        const Bands before = std::exchange(last, flux(patches, term));
        sum += last;
        if (bounces < 0 && is_negligible(sum, before, last)) break;
        if (last.maxCoeff() <= 0) break;
    }
    return result;
}

}  // namespace dapple::light
