// Visible and near-infrared light of a cloudless sky: SPCTRAL2, Bird & Riordan 1984 (SERI/TR-215-2436) and 1986
// (J. Climate Appl. Meteorol. 25:87), equation numbers of the report; with the constants of the authors' own program
// where report and program differ (1.3366 in 2-4, 118.3 in 2-11, uniformly mixed gases in 3-8), air mass by Kasten & Young
// 1989 (Appl. Opt. 28:4735). About 5 % for clear skies, by the authors' comparison with measurements.
#pragma once

#include <vector>

#include "spectrum/wavelength.h"

namespace dapple::sky {

struct VisibleAir {
    double pressure_hpa;
    double water_cm;      // precipitable water
    double ozone_atm_cm;  // DU / 1000
    double aerosol_500nm;
    double aerosol_exponent = 1.14;
    double albedo;
};

// Per unit of sunlight above the atmosphere.
struct VisibleShare {
    spectrum::Spectrum direct_normal;
    spectrum::Spectrum diffuse;  // horizontal
};

// Zero outside 300-2500 nm; linear between the model's 10-50 nm steps. Zenith angle as seen, below 90 deg.
VisibleShare visible_sky(const VisibleAir& air, double zenith_deg);

// Relative air mass of Kasten & Young 1989.
double relative_air_mass(double zenith_deg);

}  // namespace dapple::sky
