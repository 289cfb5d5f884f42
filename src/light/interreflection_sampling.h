// Evenly spread numbers and directions for Monte-Carlo radiosity, the same on every run.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "scene/geometry.h"

namespace dapple::light {

// A well mixed 64-bit number (the finaliser of SplitMix64; Steele, Lea & Flood 2014, OOPSLA).
inline std::uint64_t mixed(std::uint64_t x) {
    x += 0x9e3779b97f4a7c15ULL;
    x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
    return x ^ (x >> 31U);
}

inline double unit_interval(std::uint64_t bits) {
    return static_cast<double>(bits >> 11U) * 0x1.0p-53;
}

// Points of the unit 4-cube in which every first n are evenly spread: multiples of powers of the generalised
// golden ratio (Roberts 2018, "The unreasonable effectiveness of quasirandom sequences"), shifted at random
// for each key (Cranley & Patterson 1976, SIAM J. Numer. Anal. 13).
class EvenSequence {
  public:
    explicit EvenSequence(std::uint64_t key) {
        for (std::size_t d = 0; d < shift_.size(); ++d) shift_[d] = unit_interval(mixed(key + d));
    }
    std::array<double, 4> at(int i) const {
        constexpr double ratio = 1.1673039782614187;  // the root of x^5 = x + 1
        std::array<double, 4> x{};
        double step = 1;
        for (std::size_t d = 0; d < x.size(); ++d) {
            step /= ratio;
            const double y = shift_[d] + step * i;
            x[d] = y - std::floor(y);
        }
        return x;
    }

  private:
    std::array<double, 4> shift_{};
};

// A direction about the unit normal with density cos/pi, by two numbers in 0..1 (Malley's method).
inline scene::Vec3 cosine_direction(const scene::Vec3& normal, double a, double b) {
    const scene::Vec3 side = normal.unitOrthogonal();
    const double radius = std::sqrt(a);
    const double turn = 2 * std::numbers::pi * b;
    return radius * std::cos(turn) * side + radius * std::sin(turn) * normal.cross(side) +
           std::sqrt(1 - a) * normal;
}

// Direction i of n spread evenly over the sphere (a Fibonacci lattice: Gonzalez 2010, Math. Geosci. 42, eq.
// 1), turned about the z axis by `turn` rad.
inline scene::Vec3 even_direction(int i, int n, double turn) {
    const double z = 1 - (2.0 * i + 1) / n;
    const double phi = turn + 2 * std::numbers::pi * i / std::numbers::phi;
    const double rho = std::sqrt(1 - z * z);
    return {rho * std::cos(phi), rho * std::sin(phi), z};
}

}  // namespace dapple::light
