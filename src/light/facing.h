// Which way a receiver looks.
//
//   aimed  the largest planar irradiance over all orientations: a meter turned for its highest value
//   up     horizontal, looking at the zenith
//   back   mean over the normals of an upper half-cylinder whose axis is averaged over compass directions
//   fixed  a given normal
#pragma once

#include <string>

#include "problem/problem.h"
#include "scene/geometry.h"

namespace dapple::light {

struct Facing {
    enum class Kind { aimed, up, back, fixed };
    Kind kind = Kind::aimed;
    scene::Vec3 normal = scene::Vec3::UnitZ();  // unit; used by `fixed`

    static Facing aimed() { return {}; }
    static Facing up() { return {Kind::up, scene::Vec3::UnitZ()}; }
    static Facing back() { return {Kind::back, scene::Vec3::UnitZ()}; }
    static Facing fixed(const scene::Vec3& normal) { return {Kind::fixed, normal.normalized()}; }
};

// "aimed", "up", "back" or "nx,ny,nz" (not zero), as on the command line; and back again.
Expected<Facing> parse_facing(const std::string& text);
std::string to_text(const Facing& facing);

// The weight of a direction whose cosine with the zenith is `cos_zenith` in the `back` receiver: the mean of
// max(0, n.w) over the receiver's normals. Closed form over compass directions, tabulated over the half-cylinder.
double back_weight(double cos_zenith);

}  // namespace dapple::light
