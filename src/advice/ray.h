// The changes worth trying: rays, each one thing moved in one direction by a length that is open, and single
// changes that have no length.
#pragma once

#include <vector>

#include "advice/fix.h"

namespace dapple::advice {

struct Ray {
    Change change;    // `by` is a unit vector, or zero where there is nothing to measure
    double farthest;  // m; 0 for a change without a length
    double effort;    // minutes before a centimetre is moved

    bool has_length() const { return farthest > 0; }
    Change at(double length) const;
};

// Perches up and down; lamps up, down and four ways sideways; every two lamps swapped; every screen taken
// out.
std::vector<Ray> rays_of(const scene::Enclosure& enclosure, const Effort& effort);

}  // namespace dapple::advice
