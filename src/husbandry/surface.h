// Surfaces an animal may stand on or cling to, each cut into cells of nearly equal size.
#pragma once

#include <functional>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::husbandry {

struct SurfacePoint {
    scene::Vec3 place;
    scene::Vec3 normal;  // unit, outward
    double stretch = 1;  // area here over the mean area, 1 where the parameters preserve area
};

// A surface over the unit square.
struct Surface {
    double area;    // m2
    double width;   // m along u and v: how many cells a spacing asks for
    double height;  //
    std::function<SurfacePoint(double u, double v)> at;
};

Surface rectangle(const scene::Vec3& corner, const scene::Vec3& u, const scene::Vec3& v,
                  const scene::Vec3& normal);

// All sides of a piece of furniture. Degenerate ones (no length, no area) have none.
std::vector<Surface> surfaces_of(const scene::Furniture& furniture);

}  // namespace dapple::husbandry
