// Reach: all places an animal can get to, lifted by the height of its back, each with the area it stands for.
#pragma once

#include <vector>

#include "scene/enclosure.h"

namespace dapple::husbandry {

struct ReachOptions {
    double spacing = 0.03;           // m, wanted distance between neighbouring points
    std::size_t most_points = 6000;  // spacing widens rather than exceed this
};

struct Reach {
    std::vector<scene::Vec3> points;  // where the back is
    std::vector<scene::Vec3> feet;    // where the animal stands
    std::vector<double> area;         // m2
};

// Floor and tops of perches; also walls, sides and undersides it can cling to when it climbs. Places inside
// furniture or outside the box, and floor covered by furniture, are not reach.
Reach reach_of(const scene::Enclosure& enclosure, double back_height, bool climbs,
               const ReachOptions& options = {});

}  // namespace dapple::husbandry
