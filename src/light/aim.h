// Turning a meter for its highest value: the normal n that maximises the planar irradiance E(n) = sum of
// max(0, n.w) over all light that arrives.
//
// n <- F(n)/|F(n)|, where F(n) is the flux of the light in front of n, never lowers E: with n' along F(n),
// E(n') >= n'.F(n) = |F(n)| >= n.F(n) = E(n). Lights on different sides give several summits, so the ascent starts
// from every lamp and from combinations of lamps; the length of the whole flux vector alone can be far too small.
#pragma once

#include <span>
#include <vector>

#include "scene/geometry.h"

namespace dapple::light {

struct Beam {
    scene::Vec3 flux;  // direction it comes from x irradiance it gives a surface that faces it
};

double irradiance(std::span<const Beam> beams, const scene::Vec3& normal);

// Unit; straight up where there is no light. `starts` need not be unit vectors.
scene::Vec3 best_normal(std::span<const Beam> beams, std::span<const scene::Vec3> starts);

// The highest irradiance over all orientations, starting from every lamp and every combination of up to six; allocates
// nothing.
double highest_irradiance(std::span<const Beam> beams, std::span<const scene::Vec3> lamp_flux);

// Starts for lamps whose fluxes are given: every combination of up to six lamps, else each and all.
std::vector<scene::Vec3> starts_of(std::span<const scene::Vec3> lamp_flux);

}  // namespace dapple::light
