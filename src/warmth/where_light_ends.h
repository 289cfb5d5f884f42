// Where lamp light turns into heat: of each lamp's radiated power, what each wall and the furniture absorb, what
// screens and leaves keep, and what leaves through glass and open sides.
//
// First strikes by a fixed set of rays over the lamp's own distribution (a low-discrepancy sequence: the same every
// time), then one well-mixed diffuse remainder that every surface takes by area and absorptance, as in an integrating
// sphere. The shares of a lamp add up to 1 exactly. The irradiance at a spot is not taken from here but from
// light::Field; this is for the balance of the air.
#pragma once

#include <array>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::warmth {

// Inner surfaces of the balance: floor, top, four walls in two halves, furniture.
inline constexpr int surfaces = 11;
inline constexpr int furniture_surface = 10;
int surface_of(scene::Face face, bool upper);  // floor 0, top 1, lower walls 2-5, upper walls 6-9

struct LightShares {
    std::array<double, surfaces> surface{};
    double upper_air = 0;  // screens at the top and in the upper half
    double lower_air = 0;  // screens and leaves below
    double lost = 0;       // out of the enclosure
    double mixed =
        0;  // of the diffuse remainder, what strikes a surface on its way, W/m2 for 1 W of lamp light

    double sum() const;
};

// By lamp.
std::vector<LightShares> where_light_ends(const scene::Enclosure& enclosure);

// Exposed area of furniture, m2.
double area_of(const scene::Furniture& furniture);

}  // namespace dapple::warmth
