#include "sky/atmosphere.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "spectrum/table.h"

namespace dapple::sky {

namespace {

constexpr double molecules_per_du = 2.6867e16;  // per cm2
constexpr double cm_per_km = 1e5;

// Levels of the profile, sea level first.
struct Profile {
    std::vector<double> km, air, ozone, kelvin, aerosol;

    Profile() {
        const auto table = spectrum::shipped_table("sky/atmosphere.csv");
        km = table.column("altitude_km");
        air = table.column("air");
        ozone = table.column("ozone");
        kelvin = table.column("temperature_k");
        aerosol = table.column("aerosol");
    }

    // Densities fall off exponentially between levels; aerosol and temperature linearly.
    double density(const std::vector<double>& of, double at_km) const {
        const auto i = below(at_km);
        const double share = (at_km - km[i]) / (km[i + 1] - km[i]);
        return of[i] * std::pow(of[i + 1] / of[i], share);
    }
    double linear(const std::vector<double>& of, double at_km) const {
        const auto i = below(at_km);
        const double share = (at_km - km[i]) / (km[i + 1] - km[i]);
        return of[i] + share * (of[i + 1] - of[i]);
    }
    std::size_t below(double at_km) const {
        const auto next = std::upper_bound(km.begin(), km.end(), at_km) - km.begin();
        return static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(next - 1, 0, std::ssize(km) - 2));
    }
};

const Profile& profile() {
    static const Profile shipped;
    return shipped;
}

// Integral over height of a density that is exponential between the two values, per km.
double column(double low, double high, double km) {
    if (std::abs(low / high - 1) < 1e-6) return low * km;
    return (low - high) / std::log(low / high) * km;
}

// Heights at which layers are cut, from the top down to the place.
std::vector<double> cuts_km(double ground_km) {
    std::vector<double> cuts = {80, 60, 50, 45, 40, 37, 34, 32};
    for (int km = 30; km >= 0; --km) cuts.push_back(km);
    while (cuts.back() < ground_km + 0.05) cuts.pop_back();
    cuts.push_back(ground_km);
    return cuts;
}

Layer layer_between(double top, double bottom) {
    const Profile& p = profile();
    Layer layer{top * 1000, bottom * 1000, 0, 0, p.linear(p.kelvin, (top + bottom) / 2), 0};
    for (double from = bottom; from < top;) {
        const double to = std::min(top, std::floor(from + 1));
        const double km = to - from;
        layer.air += cm_per_km * column(p.density(p.air, from), p.density(p.air, to), km);
        layer.ozone += cm_per_km * column(p.density(p.ozone, from), p.density(p.ozone, to), km);
        layer.aerosol += (p.linear(p.aerosol, from) + p.linear(p.aerosol, to)) / 2 * km;
        from = to;
    }
    return layer;
}

std::vector<Layer> layers_above(double ground_km) {
    const auto cuts = cuts_km(ground_km);
    std::vector<Layer> all;
    for (std::size_t i = 1; i < cuts.size(); ++i) all.push_back(layer_between(cuts[i - 1], cuts[i]));
    return all;
}

// Columns from sea level, to which the profile is scaled.
struct Totals {
    double ozone = 0, aerosol = 0;
    Totals() {
        for (const Layer& layer : layers_above(0)) {
            ozone += layer.ozone;
            aerosol += layer.aerosol;
        }
    }
};

struct OzoneTable {
    static constexpr std::array kelvin = {218.0, 228.0, 243.0, 295.0};
    std::array<std::vector<double>, 4> cm2;
    double first;

    OzoneTable() {
        const auto table = spectrum::shipped_table("sky/ozone_cross_section.csv");
        first = table.column("wavelength_nm").front();
        for (std::size_t i = 0; i < kelvin.size(); ++i) {
            cm2[i] = table.column("k" + std::to_string(static_cast<int>(kelvin[i])));
        }
    }
};

}  // namespace

std::vector<Layer> layers(const Air& air) {
    static const Totals totals;
    auto all = layers_above(air.elevation_m / 1000);
    for (Layer& layer : all) {
        layer.ozone *= air.ozone_du * molecules_per_du / totals.ozone;
        layer.aerosol *= air.aerosol.optical_depth_550nm / totals.aerosol;
    }
    return all;
}

double rayleigh_cross_section_cm2(double nm) {
    const double um = nm / 1000;
    const double x = um < 0.55 ? 0.389 * um + 0.09426 / um - 0.3228 : 0.04;
    return 4.02e-28 / std::pow(um, 4 + x);
}

double index_of_air(double nm) {
    const double per_um = 1000 / nm, square = per_um * per_um;
    return 1 + 1e-8 * (8342.13 + 2406030 / (130 - square) + 15997 / (38.9 - square));
}

double ozone_cross_section_cm2(double nm, double kelvin) {
    static const OzoneTable table;
    // The tables were measured in air of the laboratory; between their half nanometres linearly.
    const double place = 2 * (nm / index_of_air(nm) - table.first);
    const auto row = static_cast<std::ptrdiff_t>(std::floor(place));
    if (row < -1 || row >= std::ssize(table.cm2[0])) return 0;
    const double beyond = place - static_cast<double>(row);
    const double t = std::clamp(kelvin, OzoneTable::kelvin.front(), OzoneTable::kelvin.back());
    std::size_t upper = 1;
    while (OzoneTable::kelvin[upper] < t) ++upper;
    const double warmer =
        (t - OzoneTable::kelvin[upper - 1]) / (OzoneTable::kelvin[upper] - OzoneTable::kelvin[upper - 1]);
    const auto at = [&](std::ptrdiff_t wanted) {
        const auto i =
            static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(wanted, 0, std::ssize(table.cm2[0]) - 1));
        return table.cm2[upper - 1][i] + warmer * (table.cm2[upper][i] - table.cm2[upper - 1][i]);
    };
    return at(row) + beyond * (at(row + 1) - at(row));
}

LayerOptics optics(const Layer& layer, const Aerosol& aerosol, double nm) {
    LayerOptics o;
    o.rayleigh = layer.air * rayleigh_cross_section_cm2(nm);
    const double haze = layer.aerosol * std::pow(550 / nm, aerosol.exponent);
    o.aerosol_scattering = haze * aerosol.scattering_albedo;
    o.scattering = o.rayleigh + o.aerosol_scattering;
    o.depth = o.rayleigh + haze + layer.ozone * ozone_cross_section_cm2(nm, layer.kelvin);
    o.asymmetry = aerosol.asymmetry;
    return o;
}

}  // namespace dapple::sky
