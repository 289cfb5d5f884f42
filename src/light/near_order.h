// An order of points in which neighbours in space are neighbours in the list, so that the vector kernel can cull what
// does not stand between a block of them and a lamp.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "scene/geometry.h"

namespace dapple::light {

// order[i] is the index of the i-th point along a Z-shaped curve through cells of the points' bounding box
// (Morton 1966, "A computer oriented geodetic data base"), by a counting sort: linear in the number of points.
std::vector<std::uint32_t> near_order(std::span<const scene::Vec3> points);

}  // namespace dapple::light
