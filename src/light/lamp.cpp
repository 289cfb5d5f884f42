#include "light/lamp.h"

#include <cmath>
#include <numbers>

#include "light/quadrature.h"

namespace dapple::light {

namespace {

double on_axis(const scene::Tube& tube, double distance) {
    const double d = distance + tube.diameter / 2;
    const double alpha = std::atan2(tube.length, 2 * d);
    return (alpha + std::sin(alpha) * std::cos(alpha)) / d;
}

double on_axis(const scene::Spot& spot, double distance) {
    const double radius = spot.diameter / 2;
    if (radius <= 0) return 1 / (distance * distance);
    const double edge = std::atan2(radius, distance);
    if (!spot.photometry) {
        return 2 * std::numbers::pi * (1 - std::pow(std::cos(edge), spot.k + 1)) / (spot.k + 1);
    }
    // The mean over phi of the integral of I(theta, phi) sin(theta).
    constexpr int turns = 72;
    const Rule& rule = gauss_legendre(32);
    double sum = 0;
    for (std::size_t i = 0; i < rule.node.size(); ++i) {
        const double theta = edge / 2 * (1 + rule.node[i]);
        for (int j = 0; j < turns; ++j) {
            const double phi = 2 * std::numbers::pi * (j + 0.5) / turns;
            sum += rule.weight[i] * edge / 2 * spot.photometry->at(theta, phi) * std::sin(theta) / turns;
        }
    }
    return 2 * std::numbers::pi * sum;
}

double on_axis(const scene::Bar& bar, double distance) {
    double sum = 0;
    for (int i = 0; i < bar.count; ++i) {
        const double s = bar.length * ((i + 0.5) / bar.count - 0.5);
        const double cos_theta = distance / std::hypot(distance, s);
        // A point at s > 0 looks back towards the axis, against `along`: phi = pi.
        const double intensity =
            bar.photometry ? bar.photometry->at(std::acos(cos_theta), s > 0 ? std::numbers::pi : 0.0)
                           : std::pow(cos_theta, bar.k);
        sum += intensity * std::pow(cos_theta, 3) / (distance * distance);
    }
    return sum;
}

bool alike(const std::optional<scene::Photometry>& a, const std::optional<scene::Photometry>& b) {
    return a.has_value() == b.has_value() && (!a || a->text == b->text);
}

bool alike(const scene::Tube& a, const scene::Tube& b) {
    return a.length == b.length && a.diameter == b.diameter && a.along == b.along && a.aim == b.aim &&
           a.forward_power == b.forward_power;
}

bool alike(const scene::Spot& a, const scene::Spot& b) {
    return a.diameter == b.diameter && a.k == b.k && a.aim == b.aim && alike(a.photometry, b.photometry);
}

bool alike(const scene::Bar& a, const scene::Bar& b) {
    return a.length == b.length && a.count == b.count && a.k == b.k && a.along == b.along && a.aim == b.aim &&
           alike(a.photometry, b.photometry);
}

}  // namespace

double irradiance_on_axis(const scene::Lamp& lamp, double distance) {
    return std::visit([&](const auto& shape) { return on_axis(shape, distance); }, lamp.shape);
}

double strength(const scene::Lamp& lamp) {
    if (lamp.output.empty()) return 0;
    double log_sum = 0;
    for (const scene::Output& output : lamp.output) {
        const double unit = irradiance_on_axis(lamp, output.distance) *
                            spectrum::measure(lamp.spectrum.relative, output.quantity);
        if (output.value <= 0 || unit <= 0) return 0;
        log_sum += std::log(output.value / unit);
    }
    return lamp.age_factor * std::exp(log_sum / static_cast<double>(lamp.output.size()));
}

bool sends_the_same(const scene::Lamp& a, const scene::Lamp& b) {
    const auto same_shape = [&](const auto& shape) {
        const auto* other = std::get_if<std::decay_t<decltype(shape)>>(&b.shape);
        return other != nullptr && alike(shape, *other);
    };
    return a.centre == b.centre && std::visit(same_shape, a.shape) &&
           (a.spectrum.relative == b.spectrum.relative).all();
}

}  // namespace dapple::light
