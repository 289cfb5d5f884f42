// The outside world at one moment: where the sun stands about an enclosure, and the light of sun and sky.
#include <cmath>
#include <numbers>

#include "sky/cloud.h"
#include "sky/outdoors.h"

namespace dapple::sky {

using scene::Vec3;

namespace {

constexpr double rad = std::numbers::pi / 180;

}  // namespace

Vec3 direction_of(double azimuth_deg, double elevation_deg, double bearing_deg) {
    const double turn = (azimuth_deg - bearing_deg) * rad, up = elevation_deg * rad;
    return {std::cos(up) * std::sin(turn), std::cos(up) * std::cos(turn), std::sin(up)};
}

Outside outside(const OpenSky& sky, Instant time, double bearing_deg) {
    const auto sun = sky.sun(time);
    const double zenith = sky.zenith_as_seen_deg(sun);
    Outside now{direction_of(sun.azimuth_deg, 90 - zenith, bearing_deg), {}, sky.conditions(time, sun)};
    now.light = under_cloud(clear_sky(now.conditions, zenith), sky.weather().cloud);
    const double factor = sky.forecast_factor(time, sun);
    const int ultraviolet = 401 - spectrum::first_nm;
    now.light.direct.head(ultraviolet) *= factor;
    now.light.diffuse.head(ultraviolet) *= factor;
    return now;
}

}  // namespace dapple::sky
