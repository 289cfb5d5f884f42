#include "sky/clear_sky.h"

#include <array>
#include <cmath>
#include <numbers>

#include "sky/scattering.h"
#include "sky/sun_position.h"
#include "sky/visible.h"
#include "spectrum/table.h"

namespace dapple::sky {

using spectrum::Spectrum;

namespace {

constexpr int ultraviolet_from = 280, ultraviolet_to = 400;

Daylight dark() {
    return {spectrum::constant(0), spectrum::constant(0)};
}

void add_ultraviolet(const Conditions& conditions, std::span<const double> zenith_deg,
                     std::span<Daylight> out) {
    const auto sky = layers(conditions.air);
    const SlantPaths paths(sky, zenith_deg);
    std::vector<LayerOptics> each(sky.size());
    const double nearness = 1 / (conditions.distance_au * conditions.distance_au);
    for (int nm = ultraviolet_from; nm <= ultraviolet_to; ++nm) {
        for (std::size_t i = 0; i < sky.size(); ++i) each[i] = optics(sky[i], conditions.air.aerosol, nm);
        const auto share = arriving(sky, each, conditions.albedo, paths);
        const int sample = nm - spectrum::first_nm;
        for (std::size_t k = 0; k < out.size(); ++k) {
            out[k].direct[sample] = extraterrestrial()[sample] * nearness * share[k].direct;
            out[k].diffuse[sample] = extraterrestrial()[sample] * nearness * share[k].diffuse;
        }
    }
}

void add_visible(const Conditions& conditions, double zenith_deg, Daylight& out) {
    const Aerosol& haze = conditions.air.aerosol;
    const VisibleAir air{standard_pressure_hpa(conditions.air.elevation_m),
                         conditions.water_cm,
                         conditions.air.ozone_du / 1000,
                         haze.optical_depth_550nm * std::pow(1.1, haze.exponent),
                         haze.exponent,
                         conditions.albedo};
    const VisibleShare share = visible_sky(air, zenith_deg);
    const double nearness = 1 / (conditions.distance_au * conditions.distance_au);
    const int from = ultraviolet_to + 1 - spectrum::first_nm, count = spectrum::samples - from;
    const auto sun = nearness * extraterrestrial().tail(count);
    out.direct.tail(count) =
        sun * share.direct_normal.tail(count) * std::cos(zenith_deg * std::numbers::pi / 180);
    out.diffuse.tail(count) = sun * share.diffuse.tail(count);
}

}  // namespace

const Spectrum& extraterrestrial() {
    static const Spectrum sun = [] {
        const auto table = spectrum::shipped_table("sky/extraterrestrial.csv");
        return spectrum::resample(table.column("wavelength_nm"), table.column("irradiance"),
                                  spectrum::Outside::zero);
    }();
    return sun;
}

std::vector<Daylight> ultraviolet(const Conditions& conditions, std::span<const double> zenith_deg) {
    std::vector<double> up;
    for (const double zenith : zenith_deg) {
        if (zenith < 90) up.push_back(zenith);
    }
    std::vector<Daylight> lit(up.size(), dark());
    if (!up.empty()) add_ultraviolet(conditions, up, lit);
    std::vector<Daylight> all;
    auto next = lit.begin();
    for (const double zenith : zenith_deg) all.push_back(zenith < 90 ? std::move(*next++) : dark());
    return all;
}

std::vector<Daylight> clear_sky(const Conditions& conditions, std::span<const double> zenith_deg) {
    auto all = ultraviolet(conditions, zenith_deg);
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (zenith_deg[i] < 90) add_visible(conditions, zenith_deg[i], all[i]);
    }
    return all;
}

Daylight clear_sky(const Conditions& conditions, double zenith_deg) {
    return clear_sky(conditions, std::array{zenith_deg}).front();
}

}  // namespace dapple::sky
