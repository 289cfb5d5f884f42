// Where to cut a wall: coarse in general, fine where a lamp is close.
#pragma once

#include <vector>

#include "scene/enclosure.h"

namespace dapple::light {

// The straight line a lamp's light comes from; both ends are the centre of a spot.
struct LampLine {
    scene::Vec3 from;
    scene::Vec3 to;
};

std::vector<LampLine> lamp_lines(const scene::Enclosure& enclosure);

// Distance (m) of a point from the nearest lamp; infinite when there is none.
double distance_to_lamps(const std::vector<LampLine>& lamps, const scene::Vec3& point);

// Something bright over the places `from`..`to` of an axis, `height` (m) above it.
struct Footprint {
    double from;
    double to;
    double height;
};

// Cuts 0..length into steps of at most `edge`, and at most half the distance from the nearest end of any
// footprint, but no less than `finest`. Returned as fractions from 0 to 1, both included.
std::vector<double> cuts(double length, double edge, const std::vector<Footprint>& footprints,
                         double finest = 0.01);

}  // namespace dapple::light
