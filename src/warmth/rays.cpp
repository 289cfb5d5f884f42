#include "warmth/rays.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "light/body.h"
#include "light/emission.h"

namespace dapple::warmth {

namespace {

using scene::Face;
using scene::Vec3;
constexpr double pi = std::numbers::pi;
constexpr int count = 512;  // shares of a lamp's light are then good to about half a per cent

double fraction(double x) {
    return x - std::floor(x);
}

// The R3 sequence (Roberts 2018): steps by powers of the root of x^4 = x + 1.
Vec3 sequence(int i) {
    return {fraction(0.5 + 0.8191725133961645 * i), fraction(0.5 + 0.6710436067037893 * i),
            fraction(0.5 + 0.5497004779019703 * i)};
}

struct Frame {
    Vec3 aim, u, v;
    Vec3 direction(double cos_theta, double phi) const {
        const double sine = std::sqrt(std::max(0.0, 1 - cos_theta * cos_theta));
        return cos_theta * aim + sine * (std::cos(phi) * u + std::sin(phi) * v);
    }
};

Frame frame_about(const Vec3& aim) {
    const Vec3 other = std::abs(aim.x()) < 0.9 ? Vec3::UnitX() : Vec3::UnitY();
    const Vec3 u = (other - other.dot(aim) * aim).normalized();
    return {aim, u, aim.cross(u)};
}

std::vector<Ray> rays(const scene::Tube& tube, const Vec3& centre) {
    const Frame about{tube.along, tube.aim, tube.along.cross(tube.aim)};
    std::vector<Ray> all;
    for (int i = 0; i < count; ++i) {
        const Vec3 s = sequence(i);
        const double cosine = 2 * s.y() - 1;
        const double phi = 2 * pi * s.z();
        const double round =
            tube.forward_power < 0 ? 1 : std::pow(std::max(0.0, std::cos(phi)), tube.forward_power);
        all.push_back({centre + (s.x() - 0.5) * tube.length * tube.along, about.direction(cosine, phi),
                       std::sqrt(1 - cosine * cosine) * round});
    }
    return all;
}

// Directions of cos^k about the aim, or of a photometric file over the whole sphere.
std::vector<Ray> rays(const light::Emission& emission) {
    const Frame about = frame_about(emission.aim);
    std::vector<Ray> all;
    for (int i = 0; i < count; ++i) {
        const Vec3 s = sequence(i);
        const bool file = emission.photometry != nullptr;
        const double cosine = file ? 2 * s.y() - 1 : std::pow(s.y(), 1 / (emission.k + 1));
        const Vec3 direction = about.direction(cosine, 2 * pi * s.z());
        all.push_back({Vec3(s), direction, file ? emission(direction) : 1});
    }
    return all;
}

std::vector<Ray> rays(const scene::Spot& spot, const Vec3& centre) {
    auto all = rays(light::emission_of(spot));
    const Frame about = frame_about(spot.aim);
    for (Ray& ray : all) {
        const double radius = spot.diameter / 2 * std::sqrt(ray.from.x());
        const double phi = 2 * pi * fraction(ray.from.x() * count);
        ray.from = centre + radius * (std::cos(phi) * about.u + std::sin(phi) * about.v);
    }
    return all;
}

std::vector<Ray> rays(const scene::Bar& bar, const Vec3& centre) {
    auto all = rays(light::emission_of(bar));
    for (Ray& ray : all) ray.from = centre + (ray.from.x() - 0.5) * bar.length * bar.along;
    return all;
}

struct Span {
    double from;
    double to;
    bool empty() const { return !(from < to); }
};

Span meet(const Span& a, double p, double d, double half) {
    if (std::abs(d) < 1e-12) return std::abs(p) <= half ? a : Span{1, 0};
    const double t0 = (-half - p) / d;
    const double t1 = (half - p) / d;
    return {std::max(a.from, std::min(t0, t1)), std::min(a.to, std::max(t0, t1))};
}

// |p + t d|^2 = 1
Span meet_round(const Span& a, double pp, double pd, double dd) {
    if (dd < 1e-24) return pp <= 1 ? a : Span{1, 0};
    const double root = pd * pd - dd * (pp - 1);
    if (root < 0) return {1, 0};
    return {std::max(a.from, (-pd - std::sqrt(root)) / dd), std::min(a.to, (-pd + std::sqrt(root)) / dd)};
}

std::optional<double> strikes(const light::Body& body, const Vec3& from, const Vec3& direction,
                              double distance) {
    using Triple = light::Triple<double>;
    const auto p = light::move_into(body, Triple{from.x(), from.y(), from.z()});
    const auto d = light::turn_into(body, Triple{direction.x(), direction.y(), direction.z()});
    const double* h = body.half;
    Span span{1e-6, distance};
    switch (body.kind) {
        case light::BodyKind::box:
            span = meet(meet(meet(span, p.x, d.x, h[0]), p.y, d.y, h[1]), p.z, d.z, h[2]);
            break;
        case light::BodyKind::cylinder:
            span = meet(span, p.z, d.z, h[2]);
            span =
                meet_round(span, (p.x * p.x + p.y * p.y) / (h[0] * h[0]),
                           (p.x * d.x + p.y * d.y) / (h[0] * h[0]), (d.x * d.x + d.y * d.y) / (h[0] * h[0]));
            break;
        case light::BodyKind::ellipsoid: {
            const Vec3 q(p.x / h[0], p.y / h[1], p.z / h[2]);
            const Vec3 e(d.x / h[0], d.y / h[1], d.z / h[2]);
            span = meet_round(span, q.dot(q), q.dot(e), e.dot(e));
            break;
        }
    }
    if (span.empty()) return std::nullopt;
    return span.from;
}

light::Body body_of(const scene::Furniture& piece) {
    if (auto body = light::make_body(piece)) return *body;
    const auto& mesh = std::get<scene::MeshShape>(piece.shape);
    scene::Box box{mesh.vertices.front(), mesh.vertices.front()};
    for (const Vec3& v : mesh.vertices) {
        box.min = box.min.cwiseMin(v);
        box.max = box.max.cwiseMax(v);
    }
    return light::make_body(scene::EllipsoidShape{box.centre(), box.half().cwiseMax(1e-3), Vec3::Zero()});
}

}  // namespace

std::vector<Ray> rays_of(const scene::Lamp& lamp) {
    auto all = std::visit([&](const auto& shape) { return rays(shape, lamp.centre); }, lamp.shape);
    double sum = 0;
    for (const Ray& ray : all) sum += ray.weight;
    for (Ray& ray : all) ray.weight = sum > 0 ? ray.weight / sum : 1.0 / count;
    return all;
}

Exit leaves_box(const Vec3& size, const Vec3& from, const Vec3& direction) {
    constexpr std::array low = {Face::left, Face::front, Face::floor};
    constexpr std::array high = {Face::right, Face::back, Face::top};
    Exit exit{Face::floor, std::numeric_limits<double>::infinity()};
    for (int axis = 0; axis < 3; ++axis) {
        const double d = direction[axis];
        if (std::abs(d) < 1e-12) continue;
        const double distance = ((d > 0 ? size[axis] : 0) - from[axis]) / d;
        // One that comes down through the top passes the planes of the sides outside of the box first.
        if (distance < exit.distance) {
            exit = {(d > 0 ? high : low)[static_cast<std::size_t>(axis)], std::max(0.0, distance)};
        }
    }
    return exit;
}

std::vector<light::Body> bodies_of(const std::vector<scene::Furniture>& furniture) {
    std::vector<light::Body> bodies;
    for (const auto& piece : furniture) bodies.push_back(body_of(piece));
    return bodies;
}

std::optional<Struck> first_struck(const std::vector<light::Body>& bodies, const Vec3& from,
                                   const Vec3& direction, double distance) {
    std::optional<Struck> first;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        const auto at = strikes(bodies[i], from, direction, first ? first->distance : distance);
        if (at) first = Struck{i, *at};
    }
    return first;
}

}  // namespace dapple::warmth
