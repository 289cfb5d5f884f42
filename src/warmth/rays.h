// Straight rays for the sharing out of lamp light: where they start, what they meet first.
#pragma once

#include <optional>
#include <vector>

#include "light/body.h"
#include "scene/enclosure.h"

namespace dapple::warmth {

struct Ray {
    scene::Vec3 from;
    scene::Vec3 direction;  // unit
    double weight;          // share of the lamp's light
};

// Rays over a lamp's own distribution; weights sum to 1.
std::vector<Ray> rays_of(const scene::Lamp& lamp);

struct Exit {
    scene::Face face;
    double distance;
};

// Where a ray that is in the box, or comes down through its top, leaves it.
Exit leaves_box(const scene::Vec3& size, const scene::Vec3& from, const scene::Vec3& direction);

struct Struck {
    std::size_t index;
    double distance;
};

// Furniture as convex bodies; triangle meshes count as the ellipsoid in their bounds.
std::vector<light::Body> bodies_of(const std::vector<scene::Furniture>& furniture);

// The nearest body before `distance`.
std::optional<Struck> first_struck(const std::vector<light::Body>& bodies, const scene::Vec3& from,
                                   const scene::Vec3& direction, double distance);

}  // namespace dapple::warmth
