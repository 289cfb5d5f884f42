// A lamp's strength: what its measured output says about its radiant intensity.
//
// Geometry is computed at unit strength: J0 = 1 W/m/sr for a tube, L0 = 1 W/m2/sr for a disc, I0 = 1 W/sr for a
// point of a bar. The spectral irradiance at a place is then
//     geometric factor x strength x age factor x relative spectrum(lambda) x what the path let through(lambda).
#pragma once

#include "scene/enclosure.h"
#include "spectrum/wavelength.h"

namespace dapple::light {

// Geometric irradiance at unit strength of a sensor on the aim axis through the lamp's centre, facing the lamp,
// `distance` (m) from the nearest luminous surface (a tube's and a coil's surface lies at its radius), nothing in
// between. Tube: (1/D)(alpha + sin alpha cos alpha), alpha = atan(L/2D), the Lambertian line of the
// configuration-factor handbooks (Howell, A Catalog of Radiation Heat Transfer Configuration Factors).
double irradiance_on_axis(const scene::Lamp& lamp, double distance);

// Strength per unit of the relative spectrum, age factor included. Several outputs are fitted in the logarithm
// (their geometric mean). Zero when the document gives none.
double strength(const scene::Lamp& lamp);

// Whether both send the same light to the same places, but for their strength.
bool sends_the_same(const scene::Lamp& a, const scene::Lamp& b);

}  // namespace dapple::light
