// Convex bodies of an enclosure, ready for shadow intervals: a frame of their own, half sizes, and a bounding box
// for culling. Furniture, screens (flat boxes), foliage and, for lamps that hang above the box, its walls.
#pragma once

#include <optional>
#include <vector>

#include "light/shadow.h"
#include "scene/enclosure.h"

namespace dapple::light {

enum class BodyKind { box, ellipsoid, cylinder };

template <class R>
struct BodyOf {
    BodyKind kind = BodyKind::box;
    bool turned = false;
    R frame[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};  // rows: the body's axes in the enclosure's frame
    R centre[3] = {};
    R half[3] = {};  // box: half edges; ellipsoid: radii; cylinder: radius, radius, half length
    R lo[3] = {};    // bounding box in the enclosure's frame
    R hi[3] = {};
};
using Body = BodyOf<double>;

// Bodies are made smaller by this much (m) so that a place on a surface is not shaded by that surface.
inline constexpr double surface_slack = 1e-6;

Body make_body(const scene::BoxShape& shape, double slack = surface_slack);
Body make_body(const scene::EllipsoidShape& shape, double slack = surface_slack);
Body make_body(const scene::CylinderShape& shape, double slack = surface_slack);
Body make_body(const scene::Screen& screen);

// Nothing for a triangle mesh, which is not convex.
std::optional<Body> make_body(const scene::Furniture& furniture, double slack = surface_slack);

// The walls that are not open, except the floor, as flat bodies.
std::vector<Body> wall_bodies(const scene::Enclosure& enclosure);

template <class R>
BodyOf<R> convert(const Body& body) {
    BodyOf<R> out;
    out.kind = body.kind;
    out.turned = body.turned;
    for (int i = 0; i < 9; ++i) out.frame[i] = static_cast<R>(body.frame[i]);
    for (int i = 0; i < 3; ++i) {
        out.centre[i] = static_cast<R>(body.centre[i]);
        out.half[i] = static_cast<R>(body.half[i]);
        out.lo[i] = static_cast<R>(body.lo[i]);
        out.hi[i] = static_cast<R>(body.hi[i]);
    }
    return out;
}

// A direction of the enclosure in the body's frame, and a point.
template <class T, class R>
Triple<T> turn_into(const BodyOf<R>& body, const Triple<T>& v) {
    if (!body.turned) return v;
    const R* f = body.frame;
    return {T(f[0]) * v.x + T(f[1]) * v.y + T(f[2]) * v.z, T(f[3]) * v.x + T(f[4]) * v.y + T(f[5]) * v.z,
            T(f[6]) * v.x + T(f[7]) * v.y + T(f[8]) * v.z};
}

template <class T, class R>
Triple<T> move_into(const BodyOf<R>& body, const Triple<T>& p) {
    return turn_into(body,
                     Triple<T>{p.x - T(body.centre[0]), p.y - T(body.centre[1]), p.z - T(body.centre[2])});
}

// The interval of the line p + s a, s0 <= s <= s1, that the body hides from the point x.
template <class T, class R>
Interval<T> shadow_of(const BodyOf<R>& body, const Triple<T>& x, const Triple<T>& p, const Triple<T>& a,
                      const T& s0, const T& s1) {
    Triple<T> o = move_into(body, x), q = move_into(body, p), d = turn_into(body, a);
    const Triple<R> half{body.half[0], body.half[1], body.half[2]};
    switch (body.kind) {
        case BodyKind::box:
            return box_shadow(half, o, q, d, s0, s1);
        case BodyKind::cylinder:
            return cylinder_shadow(half.x, half.z, o, q, d, s0, s1);
        case BodyKind::ellipsoid:
            break;
    }
    const T ix(R(1) / half.x), iy(R(1) / half.y), iz(R(1) / half.z);
    auto scale = [&](Triple<T>& v) { v = {v.x * ix, v.y * iy, v.z * iz}; };
    scale(o);
    scale(q);
    scale(d);
    return sphere_shadow(o, q, d, s0, s1);
}

// Can the body meet a segment between the boxes [alo, ahi] and [blo, bhi]? Exact for the union of all boxes between
// the two: six linear inequalities in the position between them. Each instruction set passes a tag of its own, so that
// the linker cannot hand one's compilation to another.
template <class Tag = void, class R>
bool may_stand_between(const BodyOf<R>& body, const R* alo, const R* ahi, const R* blo, const R* bhi) {
    R from = 0, to = 1;
    for (int i = 0; i < 3; ++i) {
        // (1-t) alo + t blo <= hi  and  (1-t) ahi + t bhi >= lo
        const R c1 = body.hi[i] - alo[i], m1 = alo[i] - blo[i];
        const R c2 = ahi[i] - body.lo[i], m2 = bhi[i] - ahi[i];
        for (const auto& [c, m] : {std::pair<R, R>{c1, m1}, std::pair<R, R>{c2, m2}}) {
            if (m > 0) {
                from = from > -c / m ? from : -c / m;
            } else if (m < 0) {
                to = to < -c / m ? to : -c / m;
            } else if (c < 0) {
                return false;
            }
        }
    }
    return from <= to;
}

}  // namespace dapple::light
