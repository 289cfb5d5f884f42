// Straight lines against convex bodies, in the body's own frame.
#include <algorithm>
#include <cmath>
#include <limits>

#include "light/embree.h"

namespace dapple::light {

namespace {

using scene::Vec3;

Vec3 turned_into(const Body& body, const Vec3& v) {
    if (!body.turned) return v;
    const double* f = body.frame;
    return {f[0] * v[0] + f[1] * v[1] + f[2] * v[2], f[3] * v[0] + f[4] * v[1] + f[5] * v[2],
            f[6] * v[0] + f[7] * v[1] + f[8] * v[2]};
}

Vec3 moved_into(const Body& body, const Vec3& p) {
    return turned_into(body, p - Vec3(body.centre[0], body.centre[1], body.centre[2]));
}

// The chord of a line in a convex body, with the faces at its ends; empty when enter > leave (a sheet has
// none).
struct Chord {
    double enter = -std::numeric_limits<double>::infinity();
    double leave = std::numeric_limits<double>::infinity();
    int enter_part = 0;
    int leave_part = 0;

    void narrow(double begin, int begin_part, double end, int end_part) {
        if (begin > enter) {
            enter = begin;
            enter_part = begin_part;
        }
        if (end < leave) {
            leave = end;
            leave_part = end_part;
        }
    }
    void miss() { leave = -std::numeric_limits<double>::infinity(); }
};

// Between the planes -half and half of one axis.
void narrow_slab(Chord& chord, double o, double d, double half, int low_part, int high_part) {
    if (d == 0) {
        if (std::abs(o) > half) chord.miss();
        return;
    }
    const double low = (-half - o) / d;
    const double high = (half - o) / d;
    if (d > 0) {
        chord.narrow(low, low_part, high, high_part);
    } else {
        chord.narrow(high, high_part, low, low_part);
    }
}

// Inside the unit circle or sphere, o and d given in its dimensions.
template <class V>
void narrow_round(Chord& chord, const V& o, const V& d) {
    const double dd = d.squaredNorm();
    if (dd == 0) {
        if (o.squaredNorm() > 1) chord.miss();
        return;
    }
    const double nearest = -o.dot(d) / dd;
    const double miss_squared = (o + nearest * d).squaredNorm();
    if (miss_squared >= 1) {
        chord.miss();
        return;
    }
    const double half = std::sqrt((1 - miss_squared) / dd);
    chord.narrow(nearest - half, 0, nearest + half, 0);
}

Chord chord_of(const Body& body, const Vec3& origin, const Vec3& direction) {
    const Vec3 o = moved_into(body, origin);
    const Vec3 d = turned_into(body, direction);
    const Vec3 half(body.half[0], body.half[1], body.half[2]);
    Chord chord;
    switch (body.kind) {
        case BodyKind::box:
            for (int axis = 0; axis < 3; ++axis) {
                narrow_slab(chord, o[axis], d[axis], half[axis], 2 * axis, 2 * axis + 1);
                if (chord.enter > chord.leave) break;
            }
            break;
        case BodyKind::cylinder:
            narrow_round(chord, (o.head<2>() / half[0]).eval(), (d.head<2>() / half[0]).eval());
            if (chord.enter <= chord.leave) narrow_slab(chord, o[2], d[2], half[2], 1, 2);
            break;
        case BodyKind::ellipsoid:
            narrow_round(chord, o.cwiseQuotient(half).eval(), d.cwiseQuotient(half).eval());
            break;
    }
    return chord;
}

}  // namespace

std::optional<BodyCrossing> first_crossing(const Body& body, const Vec3& origin, const Vec3& direction,
                                           double near, double far) {
    const Chord chord = chord_of(body, origin, direction);
    if (chord.enter > chord.leave) return std::nullopt;
    if (chord.enter > near) {
        if (chord.enter >= far) return std::nullopt;
        return BodyCrossing{chord.enter, chord.enter_part, false};
    }
    if (chord.leave > near && chord.leave < far) return BodyCrossing{chord.leave, chord.leave_part, true};
    return std::nullopt;
}

bool contains(const Body& body, const Vec3& point) {
    const Vec3 p = moved_into(body, point);
    const Vec3 half(body.half[0], body.half[1], body.half[2]);
    switch (body.kind) {
        case BodyKind::box:
            return (p.cwiseAbs().array() <= half.array()).all();
        case BodyKind::cylinder:
            return std::abs(p[2]) <= half[2] && p.head<2>().norm() <= half[0];
        case BodyKind::ellipsoid:
            break;
    }
    return p.cwiseQuotient(half).squaredNorm() <= 1;
}

}  // namespace dapple::light
