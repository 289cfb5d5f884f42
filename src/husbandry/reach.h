// Reach: all places an animal can get to, lifted by the height of its back, each with the area it stands for.
//
// An animal stands on the floor and on the upward sides of perches: of a turned box, a cylinder, an ellipsoid
// or a triangle mesh all that slopes less than `steepest`. One that climbs also clings to every side of a
// perch, to cylinders (branches) whether they are perches or not, and to the four walls, but not to open ones
// and not to panes: a wall whose material has the optics of a clear sheet (glass, acrylic, polycarbonate) is
// taken for too smooth. Lid and screens are no reach. Its back is above its feet where it stands and out from
// the surface where it clings.
#pragma once

#include <string>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::husbandry {

struct ReachOptions {
    double spacing = 0.03;           // m, wanted distance between neighbouring points
    std::size_t most_points = 6000;  // spacing widens rather than exceed this
    double steepest =
        1.05;  // rad from the horizontal (60 degrees), the steepest slope stood on; our judgement
};

struct Reach {
    std::vector<scene::Vec3> points;    // where the back is
    std::vector<scene::Vec3> feet;      // where the animal stands
    std::vector<double> area;           // m2
    std::vector<int> on;                // what it stands on: an index of `surfaces`
    std::vector<std::string> surfaces;  // in words: "the floor", "Flat stone", "the left wall"
};

// Places under or in furniture, without room for the animal's height, inside a lamp or outside the box are
// not reach. The points are a lattice, displaced within its cells by a fixed low-discrepancy sequence: the
// same every time.
Reach reach_of(const scene::Enclosure& enclosure, double back_height, bool climbs,
               const ReachOptions& options = {});

}  // namespace dapple::husbandry
