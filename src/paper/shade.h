// The levels of a cut through the light, and its shades: one gray a level, lighter than any line. For this folder only.
#pragma once

#include <cairo.h>

#include <array>

#include "paper/slice.h"

namespace dapple::paper {

inline constexpr std::array contour_levels = {0.1, 0.2, 0.5, 1.0,  2.0,  3.0,
                                              4.0, 6.0, 8.0, 12.0, 20.0, 40.0};  // UVI

// Fills a rectangle from (0, 0); a picture, for so many little fields would be a large file.
void shade(cairo_t* pen, const Slice& slice, double width, double height);

}  // namespace dapple::paper
