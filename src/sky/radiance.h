// How bright each part of the sky is.
//
// The sky's light is light scattered once, which is summed over the layers of sky/scattering.h: what the sun's beam has left
// where it meets each, scattered by its air and haze, less what lies below along the direction (first-order scattering; Liou
// 2002, An Introduction to Atmospheric Radiation, ch. 3.4). Light scattered more often is that of a source alike everywhere
// in the layer, 1 - exp(-tau/mu), tau the scattering depth. The first gives the brightening round the sun, both that toward
// the horizon; the layered model their sum.
// Light of that second kind is even for as much as cloud keeps of the beam. Against sixteen streams: docs/decisions/0015-the-sky-in-four-streams.md.
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
