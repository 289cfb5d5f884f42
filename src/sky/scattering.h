// Sunlight through layers of air of one wavelength: the direct beam, and the light that comes down scattered.
//
// The beam is thinned along its slant path through spherical shells (Dahlback & Stamnes 1991, Planet. Space Sci. 39:671,
// eq. 2 and appendix B). Scattered light is followed in four discrete streams, two up and two down at the double-Gauss
// cosines (Stamnes et al. 1988, Appl. Opt. 27:2502), averaged over azimuth, in plane layers: each thin layer by the diamond
// scheme, doubled to its thickness, and the layers added from the top down (Wiscombe 1976, J. Quant. Spectrosc. Radiat.
// Transfer 16:637 and 477). Forward peaks are cut off by delta-M (Wiscombe 1977, J. Atmos. Sci. 34:1408). The ground is
// Lambertian. Four streams, not two: docs/decisions/0015-the-sky-in-four-streams.md.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "sky/atmosphere.h"

namespace dapple::sky {

// On a horizontal surface, per unit of sunlight above the atmosphere facing the sun.
struct Arriving {
    double direct;
    double diffuse;
};

// Air masses of the shells on the way of the sun's beam to each edge of the layers straight above the place, where the sun
// stands at the same zenith angle but its ray comes through other parts of the shells. They are geometry: one set serves all
// wavelengths.
class SlantPaths {
  public:
    SlantPaths(std::span<const Layer> layers, std::span<const double> zenith_deg);

    const std::vector<double>& zenith_deg() const { return zenith_deg_; }
    // Slant optical depth above each edge (the top first) by zenith angle.
    Eigen::ArrayXXd depths(std::span<const LayerOptics> optics) const;

  private:
    std::vector<double> zenith_deg_;
    std::vector<Eigen::MatrixXd> air_mass_;  // by zenith angle: (edge, shell)
};

// For several zenith angles (deg, as seen, up to 90) at once, which costs little more than one.
std::vector<Arriving> arriving(std::span<const Layer> layers, std::span<const LayerOptics> optics,
                               double albedo, const SlantPaths& paths);

// Slant path in a shell over its thickness, for a ray that arrives at `ground` (m above the sea) under the zenith angle:
// a layer's air mass on a round earth.
double shell_air_mass(double bottom, double top, double ground, double zenith_deg);

}  // namespace dapple::sky
