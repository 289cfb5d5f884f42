// Open sides of an enclosure and what screens leave of them.
#pragma once

#include <vector>

#include "scene/enclosure.h"

namespace dapple::warmth {

// An open side with the screens that lie in it: what is still open, and the mesh over it.
struct Opening {
    scene::Face face;
    double area;        // m2, without what panes close
    double height;      // m, of an upright opening; 0: level
    double open_share;  // of the area, between the wires; 1: no mesh
    double wire;        // m
    double glazed = 0;  // m2 closed by panes
};

std::vector<Opening> openings_of(const scene::Enclosure& enclosure);

// m3/s that enter, and leave, because the air inside is `difference_k` off the room's. Level openings exchange air up
// and down, upright ones in and out; with both, the stack between them where that is more.
double buoyant_flow(const std::vector<Opening>& openings, const scene::Vec3& size, double difference_k,
                    double kelvin);

}  // namespace dapple::warmth
