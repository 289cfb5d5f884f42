#include "light/facing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <sstream>

namespace dapple::light {

namespace {

// Mean over a full turn of max(0, a + b cos phi).
double mean_of_positive_part(double a, double b) {
    if (a >= std::abs(b)) return a;
    if (a <= -std::abs(b)) return 0;
    const double phi = std::acos(-a / b);
    return (a * phi + b * std::sin(phi)) / std::numbers::pi;
}

// Midpoint rule over the half-cylinder; 720 steps leave an error below 1e-6.
double back_weight_exact(double cos_zenith) {
    constexpr int steps = 720;
    const double sin_zenith = std::sqrt(std::max(0.0, 1 - cos_zenith * cos_zenith));
    double sum = 0;
    for (int i = 0; i < steps; ++i) {
        const double beta = std::numbers::pi * ((i + 0.5) / steps - 0.5);
        sum += mean_of_positive_part(std::cos(beta) * cos_zenith, std::abs(std::sin(beta)) * sin_zenith);
    }
    return sum / steps;
}

}  // namespace

double back_weight(double cos_zenith) {
    // Tabulated by the zenith angle, in which the weight is smooth.
    constexpr int steps = 512;
    static const std::array<double, steps + 1> table = [] {
        std::array<double, steps + 1> t{};
        for (int i = 0; i <= steps; ++i) {
            t[static_cast<std::size_t>(i)] = back_weight_exact(std::cos(std::numbers::pi * i / steps));
        }
        return t;
    }();
    const double position = std::acos(std::clamp(cos_zenith, -1.0, 1.0)) / std::numbers::pi * steps;
    const int i = std::min(static_cast<int>(position), steps - 1);
    const double t = position - i;
    const auto k = static_cast<std::size_t>(i);
    return (1 - t) * table[k] + t * table[k + 1];
}

Expected<Facing> parse_facing(const std::string& text) {
    if (text == "aimed") return Facing::aimed();
    if (text == "up") return Facing::up();
    if (text == "back") return Facing::back();
    std::array<double, 3> n{};
    std::istringstream in(text);
    in.imbue(std::locale::classic());
    char comma1 = 0, comma2 = 0;
    in >> n[0] >> comma1 >> n[1] >> comma2 >> n[2];
    const scene::Vec3 normal(n[0], n[1], n[2]);
    const bool read =
        !in.fail() && in.peek() == std::istringstream::traits_type::eof() && comma1 == ',' && comma2 == ',';
    if (!read || !normal.allFinite() || !(normal.stableNorm() > 0)) {
        return refuse(
            {"", "facing", "\"" + text + "\"", "aimed, up, back, or a normal nx,ny,nz that is not zero"});
    }
    return Facing::fixed(normal.stableNormalized());
}

std::string to_text(const Facing& facing) {
    switch (facing.kind) {
        case Facing::Kind::aimed:
            return "aimed";
        case Facing::Kind::up:
            return "up";
        case Facing::Kind::back:
            return "back";
        case Facing::Kind::fixed:
            break;
    }
    return fmt::format("{},{},{}", facing.normal.x(), facing.normal.y(), facing.normal.z());
}

}  // namespace dapple::light
