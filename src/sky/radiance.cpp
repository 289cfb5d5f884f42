#include "sky/radiance.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dapple::sky {

using scene::Vec3;
using std::numbers::pi;

namespace {

std::vector<Part> parts_of(int rings, int parts_of_ring, double sign) {
    std::vector<Part> parts;
    const double solid_angle = 2 * pi / rings / parts_of_ring;
    for (int ring = 0; ring < rings; ++ring) {
        const double z = (ring + 0.5) / rings, r = std::sqrt(1 - z * z);
        for (int i = 0; i < parts_of_ring; ++i) {
            const double phi = 2 * pi * (i + (ring % 2 == 0 ? 0.25 : 0.75)) / parts_of_ring;
            parts.push_back({Vec3(r * std::cos(phi), r * std::sin(phi), sign * z), solid_angle});
        }
    }
    return parts;
}

// The air above the place as one scattering layer.
struct Scatterers {
    double air = 0, haze = 0, asymmetry = 0;

    Scatterers(const Conditions& conditions, int nm) : asymmetry(conditions.air.aerosol.asymmetry) {
        for (const Layer& layer : layers(conditions.air)) {
            const LayerOptics o = optics(layer, conditions.air.aerosol, nm);
            air += o.rayleigh;
            haze += o.aerosol_scattering;
        }
    }

    double depth() const { return air + haze; }

    // Mean over the sphere is one: Rayleigh and Henyey-Greenstein.
    double phase(double cosine) const {
        const double rayleigh = 0.75 * (1 + cosine * cosine);
        const double g = asymmetry;
        const double henyey = (1 - g * g) / std::pow(1 + g * g - 2 * g * cosine, 1.5);
        return (air * rayleigh + haze * henyey) / depth();
    }
};

// Where the closed form for the sun's cosine equals the direction's, its limit.
double layer_term(double depth, double mu0, double mu) {
    if (std::abs(mu0 - mu) < 1e-6) return depth / mu0;
    return mu0 / (mu0 - mu) * -std::expm1(-depth * (1 / mu - 1 / mu0));
}

constexpr double lowest_cosine = 0.1;  // of the sun in a plane layer: beyond it the earth is round

}  // namespace

std::vector<Part> upper_parts(int rings, int parts_of_ring) {
    return parts_of(rings, parts_of_ring, 1);
}

std::vector<Part> lower_parts(int rings, int parts_of_ring) {
    return parts_of(rings, parts_of_ring, -1);
}

std::vector<double> sky_beams(const Conditions& conditions, const Daylight& light, int nm, const Vec3& to_sun,
                              std::span<const Part> parts) {
    const int sample = nm - spectrum::first_nm;
    const Scatterers air(conditions, nm);
    const double mu0 = std::max(to_sun.z(), lowest_cosine);
    const double beam = light.direct[sample] / mu0;
    std::vector<double> once;
    double once_irradiance = 0, even_irradiance = 0;
    for (const Part& part : parts) {
        const double mu = part.direction.z();
        const double radiance =
            beam / (4 * pi) * air.phase(part.direction.dot(to_sun)) * layer_term(air.depth(), mu0, mu);
        once.push_back(radiance * part.solid_angle);
        once_irradiance += once.back() * mu;
        even_irradiance += part.solid_angle * mu;
    }
    // Light scattered once cannot be more than all of it; with the sun near the horizon the plane layer claims so.
    const double all = light.diffuse[sample];
    const double share = all > 0 ? std::min(once_irradiance / all, 0.9) : 0;
    std::vector<double> beams;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        double value = (1 - share) * parts[i].solid_angle / even_irradiance;
        if (once_irradiance > 0) value += share * once[i] / once_irradiance;
        beams.push_back(value);
    }
    return beams;
}

}  // namespace dapple::sky
