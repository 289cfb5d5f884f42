// Exact shadow intervals. Seen from a point, a convex body hides one interval of a straight line of light: the set
// of s for which the segment from the point to P(s) = p + s a meets the body is convex in s. Each function below
// returns that interval within [s0, s1], empty when lo >= hi.
//
// T is a number or a vector of numbers (one point a lane), R the scalar of T. Bodies are in their own frame, centred
// and unturned; the caller brings point and line there (body.h).
//
//   box        segment against box by the separating-axis theorem (Gottschalk, Lin & Manocha 1996): three face
//              axes and three edge axes, each a linear inequality in s
//   ellipsoid  scaled to the unit sphere; ends of the interval are tangents (quadratic in s) or places where the
//              line itself enters the sphere
//   cylinder   as the sphere in its cross-section, with the rims of both caps as further candidates
//
// Valid for points outside or inside the body (inside: everything is hidden). Relative error of an interval's end
// about 1e-12 in double and 1e-4 of the body's size in float.
#pragma once

#include "light/lanes.h"

namespace dapple::light {

template <class T>
struct Triple {
    T x, y, z;
};

template <class T>
struct Interval {
    T lo, hi;
};

namespace shadow_detail {

template <class T, class U>
auto dot(const Triple<T>& a, const Triple<U>& b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

template <class T, class U>
auto cross(const Triple<T>& a, const Triple<U>& b) {
    using V = decltype(a.x * b.x);
    return Triple<V>{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

// Narrows an interval by the inequality constant + slope * s >= 0.
template <class T>
void narrow(Interval<T>& interval, const T& constant, const T& slope) {
    using lanes::max;
    using lanes::min;
    using lanes::select;
    const T zero(0);
    const T root = -constant / slope;
    interval.lo = select(slope > zero, max(interval.lo, root), interval.lo);
    interval.hi = select(slope < zero, min(interval.hi, root), interval.hi);
    // A level inequality that fails empties the interval.
    interval.hi = select((slope == zero) & (constant < zero), interval.lo, interval.hi);
}

// One edge axis: seen along it, point and line are judged in the plane of the axes i and j, where the body is a
// rectangle and the point sees it between two of its corners.
template <class T, class R>
void narrow_edge(Interval<T>& interval, const T& side_i, const T& side_j, const T& oi, const T& oj,
                 const T& pi, const T& pj, const T& ai, const T& aj, R hi, R hj) {
    using lanes::select;
    const T zero(0), one(1), two(2);
    auto sign = [&](const T& v) { return select(v > zero, one, -one); };
    const T c1i = sign(side_i + two * side_j) * T(hi) - oi, c1j = sign(side_j - two * side_i) * T(hj) - oj;
    const T c2i = sign(side_i - two * side_j) * T(hi) - oi, c2j = sign(side_j + two * side_i) * T(hj) - oj;
    const auto inside = (side_i == zero) & (side_j == zero);
    const T di = pi - oi, dj = pj - oj;
    // The direction lies clockwise of the first corner and counterclockwise of the second.
    narrow(interval, select(inside, one, c1j * di - c1i * dj), select(inside, zero, c1j * ai - c1i * aj));
    narrow(interval, select(inside, one, c2i * dj - c2j * di), select(inside, zero, c2i * aj - c2j * ai));
}

template <class T>
struct Hull {  // the smallest interval that holds all candidates
    Interval<T> interval;
    T s0, s1;
    template <class M>
    void add(const T& s, const M& valid) {
        using lanes::max;
        using lanes::min;
        using lanes::select;
        const T clamped = min(max(s, s0), s1);
        const auto use = valid & (s == clamped);
        interval.lo = select(use, min(interval.lo, clamped), interval.lo);
        interval.hi = select(use, max(interval.hi, clamped), interval.hi);
    }
};

// Both roots of q2 s^2 + 2 h s + q0, each handed to `use` (Press et al., Numerical Recipes 5.6). The quarter
// discriminant h^2 - q2 q0 comes in a form without cancellation, which single precision needs: a tube nearly parallel
// to a branch has roots that all but coincide. Where there is none, `use` is called with valid = false.
template <class T, class Use>
void roots(const T& q2, const T& h, const T& q0, const T& quarter, const Use& use) {
    using lanes::max;
    using lanes::select;
    using lanes::sqrt;
    const T zero(0);
    const T w = sqrt(max(quarter, zero));
    const T q = -(h + select(h < zero, -w, w));
    const auto real = quarter >= zero;
    use(q / q2, real & (q2 != zero));
    use(q0 / q, real & (q != zero));
}

}  // namespace shadow_detail

template <class T, class R>
Interval<T> box_shadow(const Triple<R>& half, const Triple<T>& o, const Triple<T>& p, const Triple<T>& a,
                       const T& s0, const T& s1) {
    using lanes::select;
    using shadow_detail::narrow;
    using shadow_detail::narrow_edge;
    const T zero(0), one(1);
    auto side = [&](const T& v, R h) { return select(v >= T(h), one, select(v <= T(-h), -one, zero)); };
    const T rx = side(o.x, half.x), ry = side(o.y, half.y), rz = side(o.z, half.z);
    Interval<T> interval{s0, s1};
    // The line must reach past the face behind which the point lies.
    narrow(interval, select(rx == zero, one, T(half.x) - rx * p.x), -rx * a.x);
    narrow(interval, select(ry == zero, one, T(half.y) - ry * p.y), -ry * a.y);
    narrow(interval, select(rz == zero, one, T(half.z) - rz * p.z), -rz * a.z);
    narrow_edge(interval, rx, ry, o.x, o.y, p.x, p.y, a.x, a.y, half.x, half.y);
    narrow_edge(interval, ry, rz, o.y, o.z, p.y, p.z, a.y, a.z, half.y, half.z);
    narrow_edge(interval, rz, rx, o.z, o.x, p.z, p.x, a.z, a.x, half.z, half.x);
    return interval;
}

// `o`, `p`, `a` already divided by the radii: the body is the unit sphere.
template <class T>
Interval<T> sphere_shadow(const Triple<T>& o, const Triple<T>& p, const Triple<T>& a, const T& s0,
                          const T& s1) {
    using lanes::select;
    using namespace shadow_detail;
    const T zero(0), one(1), two(2);
    const Triple<T> e{p.x - o.x, p.y - o.y, p.z - o.z};
    const Triple<T> op = cross(o, p), oa = cross(o, a);
    const T ee = dot(e, e), ea = dot(e, a), aa = dot(a, a), oe = dot(o, e), o_a = dot(o, a);
    const T pp = dot(p, p), pa = dot(p, a);
    // The line through point and P(s) passes the centre at a distance d: d^2 |P - o|^2 = |o x P|^2.
    const T q2 = aa - dot(oa, oa), q1 = two * (ea - dot(op, oa)), q0 = ee - dot(op, op);
    auto before_line = [&](const T& s) {  // the nearest approach lies between the point and the line
        const T od = oe + s * o_a;
        const T dd = ee + s * (two * ea + s * aa);
        return (od < zero) & (-od <= dd);
    };
    auto line_inside = [&](const T& s) { return pp + s * (two * pa + s * aa) <= one; };
    auto hidden = [&](const T& s) {
        const auto meets = q0 + s * (q1 + s * q2) >= zero;
        return (meets & before_line(s)) | line_inside(s);
    };
    Hull<T> hull{{s1, s0}, s0, s1};
    hull.add(s0, hidden(s0));
    hull.add(s1, hidden(s1));
    // The plane of point and line cuts the sphere in a circle: its tangents, by the plane's distance from the centre.
    const Triple<T> n = cross(e, a), pxa = cross(p, a);
    const T on = dot(o, n);
    roots(q2, q1 / two, q0, (dot(o, o) - one) * (dot(n, n) - on * on),
          [&](const T& s, const auto& real) { hull.add(s, real & before_line(s)); });
    roots(aa, pa, pp - one, aa - dot(pxa, pxa), [&](const T& s, const auto& real) { hull.add(s, real); });
    const auto inside = dot(o, o) < one;
    hull.interval.lo = select(inside, s0, hull.interval.lo);
    hull.interval.hi = select(inside, s1, hull.interval.hi);
    return hull.interval;
}

// Axis along z; `radius`, `half_length`.
template <class T, class R>
Interval<T> cylinder_shadow(R radius, R half_length, const Triple<T>& o, const Triple<T>& p,
                            const Triple<T>& a, const T& s0, const T& s1) {
    using lanes::abs;
    using lanes::max;
    using lanes::min;
    using lanes::select;
    using lanes::sqrt;
    using namespace shadow_detail;
    const T zero(0), one(1);
    const T r2(radius * radius), h(half_length);
    const Triple<T> e{p.x - o.x, p.y - o.y, p.z - o.z};
    // In the cross-section (x, y).
    const T aa = a.x * a.x + a.y * a.y;
    const T op = o.x * p.y - o.y * p.x, oa = o.x * a.y - o.y * a.x;
    const T pp = p.x * p.x + p.y * p.y, pa = p.x * a.x + p.y * a.y, oo = o.x * o.x + o.y * o.y;

    auto hidden = [&](const T& s) {  // does the whole segment to P(s) meet the capped cylinder?
        const T dx = e.x + s * a.x, dy = e.y + s * a.y, dz = e.z + s * a.z;
        const T dd = dx * dx + dy * dy, od = o.x * dx + o.y * dy;
        const T disc = od * od - dd * (oo - r2);
        const T w = sqrt(max(disc, zero));
        const auto level = dd <= T(R(1e-30));
        const T t_in = select(level, zero, (-od - w) / dd), t_out = select(level, one, (-od + w) / dd);
        const auto flat = abs(dz) <= T(R(1e-30));
        const T ta = (-h - o.z) / dz, tb = (h - o.z) / dz;
        const T cap_in = select(flat, zero, min(ta, tb)), cap_out = select(flat, one, max(ta, tb));
        const auto in_slab = select(flat, abs(o.z), zero) <= h;
        const auto in_round = select(level, oo, zero) <= r2;
        const T enter = max(max(t_in, cap_in), zero), leave = min(min(t_out, cap_out), one);
        return (disc >= zero) & in_slab & in_round & (enter <= leave);
    };
    Hull<T> hull{{s1, s0}, s0, s1};
    hull.add(s0, hidden(s0));
    hull.add(s1, hidden(s1));
    // Tangents to the round side: from o towards the axis, turned to either side.
    const T along = sqrt(max(oo - r2, zero));
    for (int side = 0; side < 2; ++side) {
        const T across(side == 0 ? radius : -radius);
        const T tx = -o.x * along - o.y * across, ty = -o.y * along + o.x * across;
        const T slope = tx * a.y - ty * a.x;
        const T s = (ty * e.x - tx * e.y) / slope;
        const T dx = e.x + s * a.x, dy = e.y + s * a.y;
        const T dd = dx * dx + dy * dy, od = o.x * dx + o.y * dy;
        const T t = -od / dd;
        hull.add(s, (slope != zero) & (oo > r2) & (od < zero) & (t <= one) &
                        (abs(o.z + t * (e.z + s * a.z)) <= h));
    }
    // The line itself entering the round side.
    const T pxa = p.x * a.y - p.y * a.x;
    roots(aa, pa, pp - r2, r2 * aa - pxa * pxa,
          [&](const T& s, const auto& real) { hull.add(s, real & (abs(p.z + s * a.z) <= h)); });
    // The rims, and the line entering through a cap.
    const T exa = e.x * a.y - e.y * a.x;
    const T skew_x = e.x * a.z - a.x * e.z, skew_y = e.y * a.z - a.y * e.z;
    for (int end = 0; end < 2; ++end) {
        const T cap = end == 0 ? -h : h;
        const T up = cap - o.z;
        const T ux = o.x * e.z + up * e.x, uy = o.y * e.z + up * e.y;
        const T vx = o.x * a.z + up * a.x, vy = o.y * a.z + up * a.y;
        const T off = e.z * oa - a.z * op + up * exa;
        roots(vx * vx + vy * vy - r2 * a.z * a.z, ux * vx + uy * vy - r2 * e.z * a.z,
              ux * ux + uy * uy - r2 * e.z * e.z,
              up * up * (r2 * (skew_x * skew_x + skew_y * skew_y) - off * off),
              [&](const T& s, const auto& real) {
                  const T dz = e.z + s * a.z;
                  const T t = up / dz;
                  hull.add(s, real & (dz != zero) & (t >= zero) & (t <= one));
              });
        const T s = (cap - p.z) / a.z;
        const T x = p.x + s * a.x, y = p.y + s * a.y;
        hull.add(s, (a.z != zero) & (x * x + y * y <= r2));
    }
    const auto inside = (oo < r2) & (abs(o.z) < h);
    hull.interval.lo = select(inside, s0, hull.interval.lo);
    hull.interval.hi = select(inside, s1, hull.interval.hi);
    return hull.interval;
}

}  // namespace dapple::light
