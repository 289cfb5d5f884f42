// How bright each part of the sky is.
//
// The sky's light is light scattered once, whose brightness by direction is known in closed form for a plane layer
//     L = E p(angle)/(4 pi) mu0/(mu0 - mu) (1 - exp(-tau (1/mu - 1/mu0)))
// (first-order scattering; Liou 2002, An Introduction to Atmospheric Radiation, ch. 3.4; E the beam at the ground, tau the
// scattering depth), and light scattered more often, taken as even. The first gives the brightening round the sun and
// toward the horizon, the layered model of sky/scattering.h their sum. Ozone lies above nearly all that scatters.
#pragma once

#include <span>
#include <vector>

#include "scene/geometry.h"
#include "sky/clear_sky.h"

namespace dapple::sky {

// A part of the whole sphere about a place.
struct Part {
    scene::Vec3 direction;  // unit, toward it
    double solid_angle;     // sr
};

// Rings of equal solid angle above the horizon, the same below it, cut into equal parts.
std::vector<Part> upper_parts(int rings, int parts_of_ring);
std::vector<Part> lower_parts(int rings, int parts_of_ring);

// The horizontal diffuse irradiance of a wavelength is 1: what a surface that faces each part gets from it. `parts` lie
// above the horizon; z is up.
std::vector<double> sky_beams(const Conditions& conditions, const Daylight& light, int nm,
                              const scene::Vec3& to_sun, std::span<const Part> parts);

}  // namespace dapple::sky
