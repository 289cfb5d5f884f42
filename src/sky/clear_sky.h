// The light of a cloudless sky on the ground, 280-2500 nm each nanometre.
//
// To 400 nm by the layered model of sky/scattering.h; from 401 nm by SPCTRAL2 (sky/visible.h), good enough for warmth and
// for what people see. Sunlight above the atmosphere: ASTM G173-03's extraterrestrial column, over the square of the
// earth's distance. Checked against NCAR TUV, Madronich 2007 and ASTM G173 (tests/sky).
#pragma once

#include <span>
#include <vector>

#include "sky/atmosphere.h"
#include "spectrum/wavelength.h"

namespace dapple::sky {

struct Conditions {
    Air air = {};
    double albedo =
        0.05;  // of the ground around: grass and soil reflect 1-5 % of UV (Blumthaler & Ambach 1988,
               // Photochem. Photobiol. 48:85; from memory)
    double water_cm = 1.42;  // precipitable; US Standard Atmosphere 1976 (as in ASTM G173)
    double distance_au = 1;  // to the sun
};

// W/m2/nm, on a horizontal surface.
struct Daylight {
    spectrum::Spectrum direct;   // the sun's disc; over the sine of its elevation: facing it
    spectrum::Spectrum diffuse;  // the sky
    spectrum::Spectrum total() const { return direct + diffuse; }
};

// Zenith angles as seen (with refraction), deg. Nothing once the sun is down: what twilight brings is below 0.02 UVI.
std::vector<Daylight> clear_sky(const Conditions& conditions, std::span<const double> zenith_deg);
Daylight clear_sky(const Conditions& conditions, double zenith_deg);

// The same to 400 nm only, which is most of the work saved.
std::vector<Daylight> ultraviolet(const Conditions& conditions, std::span<const double> zenith_deg);

// At 1 au, W/m2/nm.
const spectrum::Spectrum& extraterrestrial();

}  // namespace dapple::sky
