#include "warmth/flow.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "warmth/convection.h"

namespace dapple::warmth {

double stack_flow(double area, double height, double difference_k, double kelvin, double discharge) {
    return discharge * area * std::sqrt(gravity * height * std::abs(difference_k) / kelvin);
}

double single_opening_flow(double area, double height, double difference_k, double kelvin, double discharge) {
    return discharge / 3 * area * std::sqrt(gravity * height * std::abs(difference_k) / kelvin);
}

double level_opening_flow(double area, double difference_k, double kelvin) {
    const double diameter = std::sqrt(4 * area / std::numbers::pi);
    return 0.055 * std::sqrt(gravity * std::abs(difference_k) / kelvin * std::pow(diameter, 5));
}

double mesh_loss(double open_share, double wire, double speed, double kelvin) {
    const double open = std::clamp(open_share, 0.01, 1.0);
    const double re = std::clamp(speed * wire / air_at(kelvin).kinematic_viscosity, 1e-2, 1e4);
    const double friction = 7.125 / re + 0.88 / std::log10(re + 1.25) + 0.055 * std::log10(re);
    return (1 - open * open) / (open * open) * friction;
}

double through_mesh(double flow, double area, double difference_k, double kelvin, double open_share,
                    double wire) {
    if (!(flow > 0)) return 0;
    const double diameter = std::sqrt(4 * area / std::numbers::pi);
    const double speed_open = 2 * flow / area;  // each stream has half of the opening
    const double heads = 2 * gravity * diameter * std::abs(difference_k) / kelvin / (speed_open * speed_open);
    double left = flow;
    for (int i = 0; i < 20; ++i) {  // contracts by a factor of about two each time
        const double loss = 2 * mesh_loss(open_share, wire, 2 * left / area, kelvin);
        left = std::sqrt(left * flow / std::sqrt(1 + loss / heads));
    }
    return left;
}

double plume_flow(double watts, double height, double kelvin) {
    const Air air = air_at(kelvin);
    const double buoyancy = gravity * std::max(0.0, watts) / (air.density * air.specific_heat * kelvin);
    return 0.14 * std::cbrt(buoyancy) * std::pow(height, 5.0 / 3);
}

}  // namespace dapple::warmth
