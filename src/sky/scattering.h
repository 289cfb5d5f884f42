// Sunlight through layers of air of one wavelength: the direct beam, and the light that comes down scattered.
//
// The beam is thinned along its slant path through spherical shells (Dahlback & Stamnes 1991, Planet. Space Sci. 39:671,
// eq. 2 and appendix B). Scattered light is followed in four discrete streams, two up and two down at the double-Gauss
// cosines (Stamnes et al. 1988, Appl. Opt. 27:2502), averaged over azimuth, in plane layers: each thin layer by the diamond
// scheme, doubled to its thickness, and the layers added from the top down (Wiscombe 1976, J. Quant. Spectrosc. Radiat.
// Transfer 16:637 and 477). Forward peaks are cut off by delta-M (Wiscombe 1977, J. Atmos. Sci. 34:1408). The ground is
// Lambertian. Two streams by delta-Eddington are off by 5-10 % in the diffuse ultraviolet, which is why they are four.
#pragma once

#include <span>
#include <vector>

#include "sky/atmosphere.h"

namespace dapple::sky {

// On a horizontal surface, per unit of sunlight above the atmosphere facing the sun.
struct Arriving {
    double direct;
    double diffuse;
};

// For several zenith angles (deg, as seen, up to 90) at once, which costs little more than one.
std::vector<Arriving> arriving(std::span<const Layer> layers, std::span<const LayerOptics> optics,
                               double albedo, std::span<const double> zenith_deg);

// Slant path in a shell over its thickness, for a ray that arrives at `ground` (m above the sea) under the zenith angle:
// a layer's air mass on a round earth.
double shell_air_mass(double bottom, double top, double ground, double zenith_deg);

}  // namespace dapple::sky
