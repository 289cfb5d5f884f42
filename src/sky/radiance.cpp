#include "sky/radiance.h"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "sky/scattering.h"

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

// Means over the sphere are one: Rayleigh and Henyey-Greenstein.
double rayleigh_phase(double cosine) {
    return 0.75 * (1 + cosine * cosine);
}

double haze_phase(double g, double cosine) {
    return (1 - g * g) / std::pow(1 + g * g - 2 * g * cosine, 1.5);
}

// The mean over a layer of what is left of the beam down to a depth, and from there of the way along the direction, both
// given over the whole layer.
double mean_left(double beam, double way) {
    if (std::abs(way - beam) < 1e-6) return std::exp(-beam);
    return (std::exp(-beam) - std::exp(-way)) / (way - beam);
}

constexpr double most_exponent = 600;  // of a beam at the ground that is nothing anyway

// The layers above the place, as the sun's beam meets them.
class AirAbove {
  public:
    AirAbove(const Conditions& conditions, int nm, double zenith_deg)
        : asymmetry_(conditions.air.aerosol.asymmetry) {
        const auto air = layers(conditions.air);
        for (const Layer& layer : air) each_.push_back(optics(layer, conditions.air.aerosol, nm));
        slant_ = SlantPaths(air, std::array{zenith_deg}).depths(each_).col(0);
    }

    // Scattered toward the ground at that cosine, before their phase functions, for a beam of one at the ground.
    struct Scattered {
        double air = 0, haze = 0;
    };
    Scattered toward(double mu) const {
        Scattered sum;
        double below = 0;
        for (auto i = std::ssize(each_) - 1; i >= 0; --i) {
            const LayerOptics& layer = each_[static_cast<std::size_t>(i)];
            const double brighter = std::exp(std::min(slant_[std::ssize(each_)] - slant_[i], most_exponent));
            const double scattered = brighter * mean_left(slant_[i + 1] - slant_[i], layer.depth / mu) *
                                     std::exp(-below / mu) / (4 * pi * mu);
            sum.air += layer.rayleigh * scattered;
            sum.haze += layer.aerosol_scattering * scattered;
            below += layer.depth;
        }
        return sum;
    }
    double radiance(const Scattered& light, double cosine) const {
        return light.air * rayleigh_phase(cosine) + light.haze * haze_phase(asymmetry_, cosine);
    }
    // What is left of a clear sky's beam at the ground.
    double beam_left() const { return std::exp(-slant_[std::ssize(each_)]); }
    double scattering_depth() const {
        double sum = 0;
        for (const LayerOptics& layer : each_) sum += layer.scattering;
        return sum;
    }

  private:
    std::vector<LayerOptics> each_;
    Eigen::ArrayXd slant_;  // of the beam, at the layers' edges, the top first
    double asymmetry_;
};

constexpr double lowest_cosine = 1e-3;  // of the sun

// Light by part, and what all of it sends to the horizontal.
struct Light {
    std::vector<double> beams;
    double irradiance = 0;

    void add(const Part& part, double radiance) {
        beams.push_back(radiance * part.solid_angle);
        irradiance += beams.back() * part.direction.z();
    }
    double share(std::size_t i) const { return irradiance > 0 ? beams[i] / irradiance : 0; }
};

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
    const double mu0 = std::max(to_sun.z(), lowest_cosine);
    const AirAbove air(conditions, nm, std::acos(mu0) * 180 / pi);
    const double beam = light.direct[sample] / mu0, depth = air.scattering_depth();
    Light once, again, even;
    AirAbove::Scattered ring;  // the parts of a ring stand at one height
    double ring_mu = -1;
    for (const Part& part : parts) {
        const double mu = part.direction.z();
        if (mu != ring_mu) ring = air.toward(mu);
        ring_mu = mu;
        once.add(part, beam * air.radiance(ring, part.direction.dot(to_sun)));
        again.add(part, -std::expm1(-depth / mu));
        even.add(part, 1);
    }
    const double clear_beam =
        extraterrestrial()[sample] * air.beam_left() / (conditions.distance_au * conditions.distance_au);
    const double clear = clear_beam > 0 ? std::min(beam / clear_beam, 1.0) : 1;
    // Light scattered once cannot be more than all of it; near the horizon and under cloud the sum is not that exact.
    const double all = light.diffuse[sample];
    const double first = all > 0 ? std::min(once.irradiance / all, 0.9) : 0;
    std::vector<double> beams;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const double more = clear * again.share(i) + (1 - clear) * even.share(i);
        beams.push_back(first * once.share(i) + (1 - first) * more);
    }
    return beams;
}

}  // namespace dapple::sky
