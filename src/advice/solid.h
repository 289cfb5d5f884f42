// Convex solids, for asking whether two things in an enclosure are in each other's way.
//
// A solid is known by its support: its farthest point in a direction (Gilbert, Johnson & Keerthi 1988, IEEE
// J. Robotics and Automation 4, eq. 9). Enclosure frame, metres. A triangle mesh counts as its convex hull.
#pragma once

#include <functional>

#include "scene/enclosure.h"

namespace dapple::advice {

struct Solid {
    std::function<scene::Vec3(const scene::Vec3& direction)> support;
    scene::Vec3 centre;  // somewhere inside

    Solid moved(const scene::Vec3& by) const;
};

Solid solid_of(const scene::Furniture& furniture);
Solid solid_of(const scene::Lamp& lamp);      // the luminous body: rod, disc or row of points
Solid solid_of(const scene::Screen& screen);  // as thick as a mesh's frame, 1 mm
Solid segment(const scene::Vec3& from, const scene::Vec3& to, double radius);

// The hull of the solid here and after a straight move: all that it passes through, and a little more.
Solid swept(const Solid& solid, const scene::Vec3& by);

// How far two solids reach into each other, m; 0 where they are apart. (Minkowski portal refinement, by
// libccd.)
double penetration(const Solid& a, const Solid& b);

scene::Box bounds(const Solid& solid);

// From a point to the luminous surface of a lamp, m; 0 inside.
double distance_to_surface(const scene::Lamp& lamp, const scene::Vec3& point);

}  // namespace dapple::advice
