// The clear air above a place, cut into layers: what each takes from sunlight and how it scatters it.
//
// US Standard Atmosphere 1976 for air, temperature and the shape of the ozone layer, which is scaled to the column asked
// for; aerosol shaped after Elterman 1968 (AFCRL-68-0153). Layers of 1 km, wider above 30 km, end at the ground.
//   Rayleigh       cross section of Nicolet 1984 (Planet. Space Sci. 32:1467), isotropic part and second moment 0.1
//   ozone          Malicet et al. 1995, linear in temperature between the measured 218, 228, 243 and 295 K; measured at
//                  wavelengths in air, while those of sunlight, and all here, are in vacuum
//   aerosol        optical depth (550 nm / lambda)^exponent, Henyey-Greenstein phase function
#pragma once

#include <vector>

namespace dapple::sky {

struct Aerosol {
    // Recovered, like the ozone column, from the direct beams of the radiative-transfer run that the model is tested
    // against (reference/checks/tuv_clear_sky_spectra.csv): clean continental air.
    double optical_depth_550nm = 0.068;  // from sea level up
    double exponent = 1.0;               // Angstrom's
    double scattering_albedo = 0.99;
    double asymmetry = 0.61;
};

struct Air {
    double ozone_du = 300;  // column from sea level up
    double elevation_m = 0;
    Aerosol aerosol = {};
};

struct Layer {
    double top;     // m above the sea
    double bottom;  // m
    double air;     // molecules per cm2
    double ozone;   // molecules per cm2
    double kelvin;
    double aerosol;  // optical depth at 550 nm
};

// From the top of the atmosphere down to the place.
std::vector<Layer> layers(const Air& air);

double rayleigh_cross_section_cm2(double nm);

// Of standard air (15 C, 1013.25 hPa): Edlen 1966, Metrologia 2:71, for the wavelength in vacuum.
double index_of_air(double nm);

// Mean over the nanometre around a wavelength in vacuum, 280-350 nm; zero outside (below 1e-22 up to 400 nm).
double ozone_cross_section_cm2(double nm, double kelvin);

// How a layer acts on light of one wavelength.
struct LayerOptics {
    double depth = 0;       // extinction, vertical
    double scattering = 0;  // of which scattered
    double rayleigh = 0;    // of that, by air
    double aerosol_scattering = 0;
    double asymmetry = 0;  // of the aerosol
};
LayerOptics optics(const Layer& layer, const Aerosol& aerosol, double nm);

}  // namespace dapple::sky
