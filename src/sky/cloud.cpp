#include "sky/cloud.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace dapple::sky {

double cloud_factor_uv(double cover) {
    constexpr std::array<std::pair<double, double>, 4> known = {
        {{0, 1}, {0.45, 0.89}, {0.8, 0.73}, {1, 0.31}}};
    std::size_t next = 1;
    while (next + 1 < known.size() && known[next].first < cover) ++next;
    const auto& [from, high] = known[next - 1];
    const auto& [to, low] = known[next];
    return high + (std::clamp(cover, from, to) - from) / (to - from) * (low - high);
}

double cloud_factor_light(double cover) {
    return 1 - 0.75 * std::pow(std::clamp(cover, 0.0, 1.0), 3.4);
}

Daylight under_cloud(const Daylight& clear, double cover) {
    if (cover <= 0) return clear;
    spectrum::Spectrum factor = spectrum::constant(cloud_factor_light(cover));
    factor.head(401 - spectrum::first_nm) = cloud_factor_uv(cover);
    Daylight out;
    out.direct = (1 - cover) * clear.direct;
    out.diffuse = (factor * clear.total() - out.direct).max(0);
    return out;
}

}  // namespace dapple::sky
