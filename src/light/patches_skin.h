// A face of a convex body as a chart: u and v from 0 to 1 run over it.
//
//   box face        u, v along the body's next two axes
//   cylinder side   u round the axis, v along it; cap: u round the axis, v the square of the radius
//   ellipsoid       u round its third axis, v along it (the unit sphere's equal-area chart, stretched)
//
// Boxes and cylinders are charted area by area: `density` is constant there. On an ellipsoid it varies;
// samples carry it as their weight.
#pragma once

#include "light/body.h"
#include "scene/geometry.h"

namespace dapple::light {

struct SkinPoint {
    scene::Vec3 point;
    scene::Vec3 normal;  // unit, outward
    double density;      // m2 of surface per unit of u times v
};

struct Chart {
    double u;
    double v;
};

SkinPoint skin_point(const Body& body, int part, Chart at);

// The chart of a point on (or near) the face.
Chart locate(const Body& body, int part, const scene::Vec3& point);

// How many faces a body has, and roughly how long u and v run on one (m).
int parts(const Body& body);
Chart extent(const Body& body, int part);

}  // namespace dapple::light
