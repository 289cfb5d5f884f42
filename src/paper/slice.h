// A cut through the light: the UVI of an aimed meter on a lattice in one plane of the enclosure, its contours, and what
// stands there.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::paper {

// Seen from above, the front wall below; or from the front, the floor below.
enum class Cut { plan, section };

struct Slice {
    Cut cut;
    double at;      // m: the plan's height, the section's distance from the front
    double width;   // m, from left to right
    double height;  // m, upwards on the paper
    int columns;    // lattice points
    int rows;
    std::vector<double> uvi;  // row by row, the lowest first

    double value(int column, int row) const {
        return uvi[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                   static_cast<std::size_t>(column)];
    }
};

using UviAt = std::function<std::vector<double>(std::span<const scene::Vec3>)>;

// About `longest` points along the longer side.
Slice slice_of(const scene::Enclosure& enclosure, Cut cut, double at, const UviAt& uvi, int longest = 56);

struct Point {  // metres in the slice's plane, from its lower left corner
    double x;
    double y;
};
using Line = std::vector<Point>;

// The lines on which the slice has the value, by linear interpolation between the lattice's points ("marching squares",
// the ambiguous saddle decided by the mean of its corners).
std::vector<Line> contours(const Slice& slice, double value);

}  // namespace dapple::paper
