// The wavelength bands in which light is followed from surface to surface. Inside a band a reflectance is the
// mean weighted by nothing; the lamp's own spectrum keeps its shape there. Narrow in the UVB, where materials and
// weights change quickly; wide in the infrared.
#pragma once

#include <array>

#include "spectrum/wavelength.h"

namespace dapple::light {

inline constexpr std::array band_edges_nm = {200, 280, 295, 305, 315, 330,  360,
                                             400, 480, 560, 650, 780, 1100, 2500};
inline constexpr int bands = static_cast<int>(band_edges_nm.size()) - 1;

using Bands = Eigen::Array<double, bands, 1>;

// Mean of a spectrum in each band.
Bands band_means(const spectrum::Spectrum& s);

// The spectrum that is constant in each band.
spectrum::Spectrum staircase(const Bands& values);

}  // namespace dapple::light
