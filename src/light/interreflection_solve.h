// Light passed from patch to patch: the Neumann series of B = rho (E + F B), one reflection a term.
#pragma once

#include <vector>

#include "light/interreflection_factors.h"
#include "light/patches.h"

namespace dapple::light {

// Radiosity (W/m2) of every patch.
struct Radiosity {
    std::vector<Lanes> all;      // after 1 .. n reflections
    std::vector<Lanes> further;  // after 2 .. n: what a gathered point adds to exact direct light
    int reflections = 0;         // n
};

// `irradiance` is the direct light on every patch. With `bounces` < 0 it goes on until what is still under
// way, by the ratio of the last two terms, is less than 0.1 % of the sum in every band.
Radiosity solve(const Patches& patches, const FormFactors& factors, const std::vector<Lanes>& irradiance,
                int bounces);

}  // namespace dapple::light
