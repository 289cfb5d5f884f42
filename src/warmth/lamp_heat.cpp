#include "warmth/lamp_heat.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include "light/lamp.h"
#include "light/quadrature.h"
#include "warmth/radiation.h"

namespace dapple::warmth {

namespace {

using scene::HeatKind;
constexpr double pi = std::numbers::pi;

double sphere_integral(const scene::Photometry& photometry) {
    const light::Rule& rule = light::gauss_legendre(32);
    constexpr int turns = 72;
    double sum = 0;
    for (std::size_t i = 0; i < rule.node.size(); ++i) {
        const double theta = pi / 2 * (1 + rule.node[i]);
        for (int j = 0; j < turns; ++j) {
            const double phi = 2 * pi * (j + 0.5) / turns;
            sum += rule.weight[i] * pi / 2 * photometry.at(theta, phi) * std::sin(theta) * 2 * pi / turns;
        }
    }
    return sum;
}

double flux(const scene::Tube& tube) {
    const double m = tube.forward_power;
    const double round =
        m < 0 ? 2 * pi : std::sqrt(pi) * std::exp(std::lgamma((m + 1) / 2) - std::lgamma(m / 2 + 1));
    return pi / 2 * tube.length * round;
}

double flux(const scene::Spot& spot) {
    const double area = spot.diameter > 0 ? pi / 4 * spot.diameter * spot.diameter : 1;
    return area * (spot.photometry ? sphere_integral(*spot.photometry) : 2 * pi / (spot.k + 1));
}

double flux(const scene::Bar& bar) {
    return bar.count * (bar.photometry ? sphere_integral(*bar.photometry) : 2 * pi / (bar.k + 1));
}

bool starts_with_any(std::string_view text, std::initializer_list<std::string_view> words) {
    return std::any_of(words.begin(), words.end(), [&](auto word) { return text.starts_with(word); });
}

// Infrared that goes with the light beyond the end of the spectrum, over the light the spectrum holds.
double unseen_infrared(HeatKind kind, const spectrum::Spectrum& relative) {
    const HeatShares& shares = heat_shares(kind);
    if (shares.temperature_k > 0) {
        const double seen = black_share_below(spectrum::last_nm, shares.temperature_k);
        return black_share_below(shares.glass_to_nm, shares.temperature_k) / seen - 1;
    }
    const double beamed = shares.with_light * shares.infrared;
    if (!(beamed > 0)) return 0;
    constexpr int visible_to_nm = 780;
    const double visible = relative.head(visible_to_nm - spectrum::first_nm + 1).sum() / relative.sum();
    return std::max(0.0, visible * (1 + beamed / shares.visible) - 1);
}

}  // namespace

const HeatShares& heat_shares(HeatKind kind) {
    static constexpr HeatShares incandescent = {0.10, 0.72, 0.18, 0, 2700, 3000};
    static constexpr HeatShares halogen = {0.105, 0.77, 0.125, 0, 3000, 3500};
    static constexpr HeatShares heat_lamp = {0.05, 0.77, 0.18, 0, 2400, 3000};
    static constexpr HeatShares fluorescent = {0.194, 0.307, 0.499, 0, 0, 0};
    static constexpr HeatShares mercury = {0.165, 0.464, 0.371, 0.5, 0, 0};
    static constexpr HeatShares metal_halide = {0.233, 0.319, 0.448, 0.5, 0, 0};
    static constexpr HeatShares led = {0.38, 0, 0.62, 0, 0, 0};
    // Ceramic at 650 K in a room: radiation 9 kW/m2, natural convection of a sphere or plate 4 kW/m2.
    static constexpr HeatShares emitter = {0, 0.68, 0.32, 1, 0, 0};
    switch (kind) {
        case HeatKind::incandescent:
            return incandescent;
        case HeatKind::halogen:
            return halogen;
        case HeatKind::heat_lamp:
            return heat_lamp;
        case HeatKind::fluorescent:
            return fluorescent;
        case HeatKind::mercury_vapour:
            return mercury;
        case HeatKind::metal_halide:
            return metal_halide;
        case HeatKind::led:
            return led;
        case HeatKind::emitter:
            break;
    }
    return emitter;
}

HeatKind heat_kind(const scene::Lamp& lamp) {
    if (lamp.heat_kind) return *lamp.heat_kind;
    const std::string_view spectrum = lamp.spectrum.id;
    if (starts_with_any(spectrum, {"fluorescent"})) return HeatKind::fluorescent;
    if (starts_with_any(spectrum, {"mercury"})) return HeatKind::mercury_vapour;
    if (starts_with_any(spectrum, {"metal_halide"})) return HeatKind::metal_halide;
    if (starts_with_any(spectrum, {"led"})) return HeatKind::led;
    if (starts_with_any(spectrum, {"halogen"})) return HeatKind::halogen;
    if (starts_with_any(spectrum, {"incandescent"})) return HeatKind::incandescent;
    if (starts_with_any(spectrum, {"infrared"})) return HeatKind::heat_lamp;
    if (std::holds_alternative<scene::Tube>(lamp.shape)) return HeatKind::fluorescent;
    return std::holds_alternative<scene::Bar>(lamp.shape) ? HeatKind::led : HeatKind::halogen;
}

double flux_at_unit_strength(const scene::Lamp& lamp) {
    return std::visit([](const auto& shape) { return flux(shape); }, lamp.shape);
}

LampHeat lamp_heat(const scene::Lamp& lamp, double infrared, double body) {
    LampHeat heat;
    heat.kind = heat_kind(lamp);
    const HeatShares& shares = heat_shares(heat.kind);
    const spectrum::Spectrum& relative = lamp.spectrum.relative;
    const double strength = light::strength(lamp);
    const bool emitter = heat.kind == HeatKind::emitter;
    heat.by_power = emitter || !(strength > 0);
    heat.per_light = emitter ? 1 : 1 + infrared * unseen_infrared(heat.kind, relative);

    // What is not lost to the air, and of it what the glass lets out; the rest warms the body.
    const double glass =
        shares.temperature_k > 0 ? black_share_below(shares.glass_to_nm, shares.temperature_k) : 1;
    const double radiated = shares.temperature_k > 0 ? (shares.visible + shares.infrared) * glass
                                                     : shares.visible + shares.with_light * shares.infrared;
    const double body_share = shares.visible + shares.infrared - radiated;

    double power = lamp.power_w;
    if (heat.by_power) {
        heat.with_light = radiated * power;
    } else {
        // Age dims light, not heat.
        const double light = strength / lamp.age_factor * flux_at_unit_strength(lamp) *
                             spectrum::measure(relative, spectrum::Quantity::irradiance);
        heat.with_light = light * heat.per_light;
        heat.per_light /= lamp.age_factor;
        if (power <= 0) power = heat.with_light / radiated;
        heat.over_power = heat.with_light > power;
    }
    const double rest = std::max(0.0, power - heat.with_light);
    const double of_body =
        body_share > 0 ? std::min(1.0, body * body_share / (body_share + shares.air)) : 0.0;
    heat.body_radiation = of_body * rest;
    heat.body_air = rest - heat.body_radiation;
    return heat;
}

scene::Lamp lit_by_power(const scene::Lamp& lamp) {
    scene::Lamp lit = lamp;
    const LampHeat heat = lamp_heat(lamp);
    constexpr double at = 0.3;  // m; anywhere does
    lit.output.clear();
    lit.age_factor = 1;
    if (!(heat.with_light > 0)) return lit;
    const double value =
        heat.with_light / heat.per_light / flux_at_unit_strength(lamp) * light::irradiance_on_axis(lamp, at);
    lit.output.push_back({spectrum::Quantity::irradiance, value, at});
    return lit;
}

}  // namespace dapple::warmth
