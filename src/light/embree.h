// Furniture as rays meet it: boxes, cylinders and ellipsoids exactly, triangle meshes triangle by triangle,
// all in one Embree tree (Wald et al. 2014, Embree: a kernel framework for efficient CPU ray tracing).
//
// Enclosure frame, metres. Rays are single precision inside Embree: places are good to about 1e-7 of the
// enclosure's size, so lift origins off surfaces by `surface_lift`. Queries may run on many threads at once.
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "light/body.h"
#include "scene/enclosure.h"

namespace dapple::light {

// How far from a surface (m) a ray must start so as not to meet that surface itself.
inline constexpr double surface_lift = 1e-5;

// Where a straight line meets a body. `part` says on which of its faces:
//   box        2 axis + (1 on the far side), axes of its own frame
//   cylinder   0 round side, 1 cap at its beginning, 2 cap at its end
//   ellipsoid  0
struct BodyCrossing {
    double distance;
    int part;
    bool inside;  // met from within
};

// The first crossing beyond `near` and before `far`; direction is a unit vector.
std::optional<BodyCrossing> first_crossing(const Body& body, const scene::Vec3& origin,
                                           const scene::Vec3& direction, double near, double far);

// Whether the point lies in the body or on its surface.
bool contains(const Body& body, const scene::Vec3& point);

struct FurnitureHit {
    int furniture;    // index into the furniture given
    int part;         // of a body, as above; 0 for a mesh
    int triangle;     // of a mesh; -1 for a body
    double distance;  // m
    bool inside;      // a body met from within, or the back of a triangle
};

class FurnitureRays {
  public:
    explicit FurnitureRays(std::span<const scene::Furniture> furniture);
    ~FurnitureRays();
    FurnitureRays(FurnitureRays&&) noexcept;
    FurnitureRays& operator=(FurnitureRays&&) noexcept;

    bool empty() const;

    // The nearest surface in a unit direction within `reach` metres.
    std::optional<FurnitureHit> first(const scene::Vec3& origin, const scene::Vec3& direction,
                                      double reach) const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace dapple::light
