#include "sky/visible.h"

#include <cmath>
#include <numbers>

#include "spectrum/table.h"

namespace dapple::sky {

namespace {

constexpr double rad = std::numbers::pi / 180;
constexpr double asymmetry = 0.65;  // of the aerosol: the report's rural model
constexpr double scattering_albedo_400 = 0.945;
constexpr double albedo_variation = 0.095;

struct Through {  // transmittances of eq. 2-4 to 2-11 and 3-9, 3-10
    double rayleigh, aerosol, water, ozone, mixed, aerosol_scattering, aerosol_absorption;
};

struct Absorption {
    double nm, water, ozone, mixed;
};

double ozone_mass(double zenith_deg) {  // eq. 2-10
    constexpr double height = 22.0 / 6370;
    const double c = std::cos(zenith_deg * rad);
    return (1 + height) / std::sqrt(c * c + 2 * height);
}

Through through(const Absorption& a, const VisibleAir& air, double mass, double ozone_path) {
    const double um = a.nm / 1000, um2 = um * um;
    const double pressure_mass = mass * air.pressure_hpa / 1013;
    const double depth = air.aerosol_500nm * std::pow(500 / a.nm, air.aerosol_exponent);
    const double log = std::log(a.nm / 400);
    const double albedo = scattering_albedo_400 * std::exp(-albedo_variation * log * log);
    const double water = a.water * air.water_cm * mass, mixed = a.mixed * pressure_mass;
    return {std::exp(-pressure_mass / (um2 * um2 * (115.6406 - 1.3366 / um2))),
            std::exp(-depth * mass),
            std::exp(-0.2385 * water / std::pow(1 + 20.07 * water, 0.45)),
            std::exp(-a.ozone * air.ozone_atm_cm * ozone_path),
            std::exp(-1.41 * mixed / std::pow(1 + 118.3 * mixed, 0.45)),
            std::exp(-albedo * depth * mass),
            std::exp(-(1 - albedo) * depth * mass)};
}

const std::vector<Absorption>& absorptions() {
    static const std::vector<Absorption> all = [] {
        const auto table = spectrum::shipped_table("sky/spctral2.csv");
        std::vector<Absorption> rows;
        for (std::size_t i = 0; i < table.column("wavelength_nm").size(); ++i) {
            rows.push_back({table.column("wavelength_nm")[i], table.column("water")[i],
                            table.column("ozone")[i], table.column("mixed")[i]});
        }
        return rows;
    }();
    return all;
}

}  // namespace

double relative_air_mass(double zenith_deg) {
    return 1 / (std::cos(zenith_deg * rad) + 0.50572 * std::pow(96.07995 - zenith_deg, -1.6364));
}

VisibleShare visible_sky(const VisibleAir& air, double zenith_deg) {
    const double cosine = std::cos(zenith_deg * rad), mass = relative_air_mass(zenith_deg);
    const double alg = std::log(1 - asymmetry);                                // eq. 3-14
    const double afs = alg * (1.459 + alg * (0.1595 + alg * 0.4129));          // eq. 3-12
    const double bfs = alg * (0.0783 + alg * (-0.3824 - alg * 0.5874));        // eq. 3-13
    const double forward = 1 - 0.5 * std::exp((afs + bfs * cosine) * cosine);  // eq. 3-11
    const double forward_sky = 1 - 0.5 * std::exp((afs + bfs / 1.8) / 1.8);    // eq. 3-15
    std::vector<double> nm, direct, diffuse;
    for (const Absorption& a : absorptions()) {
        const Through t = through(a, air, mass, ozone_mass(zenith_deg));
        const Through sky =
            through(a, air, 1.8, ozone_mass(zenith_deg));  // the primed terms, at air mass 1.8
        const double beam = t.rayleigh * t.aerosol * t.water * t.ozone * t.mixed;  // eq. 2-1
        const double common = cosine * t.ozone * t.mixed * t.water * t.aerosol_absorption;
        const double from_air = common * (1 - std::pow(t.rayleigh, 0.95)) * 0.5;  // 3-5
        const double from_haze =
            common * std::pow(t.rayleigh, 1.5) * (1 - t.aerosol_scattering) * forward;  // 3-6
        const double reflects = sky.mixed * sky.water * sky.aerosol_absorption *
                                (0.5 * (1 - sky.rayleigh) +
                                 (1 - forward_sky) * sky.rayleigh * (1 - sky.aerosol_scattering));  // 3-8
        const double again = (beam * cosine + from_air + from_haze) * reflects * air.albedo /
                             (1 - reflects * air.albedo);                                // 3-7
        const double correction = a.nm <= 450 ? std::pow((a.nm + 550) / 1000, 1.8) : 1;  // 3-17
        nm.push_back(a.nm);
        direct.push_back(beam);
        diffuse.push_back((from_air + from_haze + again) * correction);  // 3-1
    }
    return {spectrum::resample(nm, direct, spectrum::Outside::zero),
            spectrum::resample(nm, diffuse, spectrum::Outside::zero)};
}

}  // namespace dapple::sky
