#include "light/patches_skin.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dapple::light {

namespace {

using scene::Vec3;
constexpr double two_pi = 2 * std::numbers::pi;

Vec3 half_of(const Body& body) {
    return {body.half[0], body.half[1], body.half[2]};
}

Vec3 turned_out(const Body& body, const Vec3& v) {
    const double* f = body.frame;
    return {f[0] * v[0] + f[3] * v[1] + f[6] * v[2], f[1] * v[0] + f[4] * v[1] + f[7] * v[2],
            f[2] * v[0] + f[5] * v[1] + f[8] * v[2]};
}

Vec3 moved_in(const Body& body, const Vec3& point) {
    const Vec3 d = point - Vec3(body.centre[0], body.centre[1], body.centre[2]);
    const double* f = body.frame;
    return {f[0] * d[0] + f[1] * d[1] + f[2] * d[2], f[3] * d[0] + f[4] * d[1] + f[5] * d[2],
            f[6] * d[0] + f[7] * d[1] + f[8] * d[2]};
}

double turn_of(double y, double x) {
    const double u = std::atan2(y, x) / two_pi;
    return u < 0 ? u + 1 : u;
}

double unit(double x) {
    return std::clamp(x, 0.0, 1.0);
}

// In the body's own frame.
SkinPoint on_box(const Vec3& half, int part, Chart at) {
    const int n = part / 2;
    const int i = (n + 1) % 3;
    const int j = (n + 2) % 3;
    const double side = part % 2 == 0 ? -1 : 1;
    Vec3 point;
    point[n] = side * half[n];
    point[i] = (2 * at.u - 1) * half[i];
    point[j] = (2 * at.v - 1) * half[j];
    return {point, side * Vec3::Unit(n), 4 * half[i] * half[j]};
}

SkinPoint on_cylinder(const Vec3& half, int part, Chart at) {
    const double r = half[0];
    const Vec3 out(std::cos(two_pi * at.u), std::sin(two_pi * at.u), 0);
    if (part == 0) return {r * out + Vec3(0, 0, (2 * at.v - 1) * half[2]), out, two_pi * r * 2 * half[2]};
    const double side = part == 1 ? -1 : 1;
    return {r * std::sqrt(at.v) * out + Vec3(0, 0, side * half[2]), Vec3(0, 0, side),
            std::numbers::pi * r * r};
}

SkinPoint on_ellipsoid(const Vec3& half, Chart at) {
    const double z = 2 * at.v - 1;
    const double rho = std::sqrt(std::max(0.0, 1 - z * z));
    const Vec3 s(rho * std::cos(two_pi * at.u), rho * std::sin(two_pi * at.u), z);
    const Vec3 gradient = s.cwiseQuotient(half);
    // The stretched sphere's area: dA = a b c |(x/a, y/b, z/c)| domega, and domega = 4 pi du dv.
    return {s.cwiseProduct(half), gradient.normalized(),
            4 * std::numbers::pi * half.prod() * gradient.norm()};
}

}  // namespace

SkinPoint skin_point(const Body& body, int part, Chart at) {
    const Vec3 half = half_of(body);
    SkinPoint p = body.kind == BodyKind::box        ? on_box(half, part, at)
                  : body.kind == BodyKind::cylinder ? on_cylinder(half, part, at)
                                                    : on_ellipsoid(half, at);
    p.point = turned_out(body, p.point) + Vec3(body.centre[0], body.centre[1], body.centre[2]);
    p.normal = turned_out(body, p.normal);
    return p;
}

Chart locate(const Body& body, int part, const Vec3& point) {
    const Vec3 p = moved_in(body, point);
    const Vec3 half = half_of(body);
    switch (body.kind) {
        case BodyKind::box: {
            const int i = (part / 2 + 1) % 3;
            const int j = (part / 2 + 2) % 3;
            return {unit(0.5 + 0.5 * p[i] / half[i]), unit(0.5 + 0.5 * p[j] / half[j])};
        }
        case BodyKind::cylinder:
            if (part == 0) return {turn_of(p[1], p[0]), unit(0.5 + 0.5 * p[2] / half[2])};
            return {turn_of(p[1], p[0]), unit(p.head<2>().squaredNorm() / (half[0] * half[0]))};
        case BodyKind::ellipsoid:
            break;
    }
    const Vec3 s = p.cwiseQuotient(half).normalized();
    return {turn_of(s[1], s[0]), unit(0.5 + 0.5 * s[2])};
}

int parts(const Body& body) {
    return body.kind == BodyKind::box ? 6 : body.kind == BodyKind::cylinder ? 3 : 1;
}

Chart extent(const Body& body, int part) {
    const Vec3 half = half_of(body);
    switch (body.kind) {
        case BodyKind::box:
            return {2 * half[(part / 2 + 1) % 3], 2 * half[(part / 2 + 2) % 3]};
        case BodyKind::cylinder:
            if (part == 0) return {two_pi * half[0], 2 * half[2]};
            return {std::numbers::pi * half[0], half[0]};
        case BodyKind::ellipsoid:
            break;
    }
    return {two_pi * half.head<2>().maxCoeff(), std::numbers::pi * half.maxCoeff()};
}

}  // namespace dapple::light
