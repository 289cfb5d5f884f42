#include "sky/outdoors.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "light/aim.h"
#include "light/bands.h"
#include "sky/cloud.h"

namespace dapple::sky {

using light::Facing;
using scene::Vec3;
using spectrum::Quantity;
using spectrum::Spectrum;

namespace {

constexpr double rad = std::numbers::pi / 180;
constexpr double sun_radius = 0.2666 * rad;  // at 1 au
constexpr int sun_rays = 7;

// A mesh's hemispherical transmittance comes out within 0.5 % (tests/sky/outdoors_test.cpp).
constexpr int upper_rings = 12, upper_parts_of_ring = 20;
constexpr int lower_rings = 4, lower_parts_of_ring = 12;

// The middle of the disc and six rays at the radius that leaves each the same part of it.
std::array<Vec3, sun_rays> disc(const Vec3& to_sun) {
    const Vec3 u = to_sun.unitOrthogonal(), v = to_sun.cross(u);
    std::array<Vec3, sun_rays> rays;
    rays[0] = to_sun;
    for (int i = 1; i < sun_rays; ++i) {
        const double phi = 2 * std::numbers::pi * i / (sun_rays - 1);
        const double r = sun_radius * std::sqrt(4.0 / 7);  // the ring's area is halved there
        rays[static_cast<std::size_t>(i)] =
            (to_sun + r * (std::cos(phi) * u + std::sin(phi) * v)).normalized();
    }
    return rays;
}

int middle_of_band(std::size_t band) {
    return (light::band_edges_nm[band] + light::band_edges_nm[band + 1]) / 2;
}

double received(const Facing& facing, const Vec3& normal, const Vec3& direction) {
    return facing.kind == Facing::Kind::back ? light::back_weight(direction.z())
                                             : std::max(0.0, normal.dot(direction));
}

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

struct OutdoorLight::Worth {
    std::vector<std::vector<double>> sky;  // [kind][part]: irradiance facing the part
    std::vector<double> sun;               // [kind]: facing the sun
    bool any = false;
};

OutdoorLight::OutdoorLight(const scene::Enclosure& enclosure, std::vector<Vec3> points)
    : points_(std::move(points)),
      ways_(std::make_unique<WaysOut>(enclosure)),
      upper_(upper_parts(upper_rings, upper_parts_of_ring)),
      lower_(lower_parts(lower_rings, lower_parts_of_ring)),
      sky_(points_.size()) {
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) {
        auto& ways = sky_[i];
        ways.reserve(upper_.size() + lower_.size());
        for (const Part& part : upper_) ways.push_back(ways_->along(points_[i], part.direction));
        for (const Part& part : lower_) ways.push_back(ways_->along(points_[i], part.direction));
    });
}

OutdoorLight::Worth OutdoorLight::worth(const Outside& now, const Spectrum& weight) const {
    Worth out;
    if (now.dark()) return out;
    out.any = true;
    std::vector<std::vector<double>> beams;  // by band
    for (std::size_t b = 0; b < static_cast<std::size_t>(light::bands); ++b) {
        beams.push_back(sky_beams(now.conditions, now.light, middle_of_band(b), now.to_sun, upper_));
    }
    const Spectrum diffuse = now.light.diffuse * weight, direct = now.light.direct * weight / now.to_sun.z();
    const Spectrum ground = now.conditions.albedo / std::numbers::pi * now.light.total() * weight;
    for (std::size_t kind = 0; kind < ways_->kinds(); ++kind) {
        const Spectrum through = ways_->transmittance(kind);
        auto& parts = out.sky.emplace_back(upper_.size() + lower_.size(), 0.0);
        const Spectrum arriving = diffuse * through;
        for (std::size_t b = 0; b < beams.size(); ++b) {
            const int from = light::band_edges_nm[b] - spectrum::first_nm;
            const int count =
                light::band_edges_nm[b + 1] - light::band_edges_nm[b] + (b + 1 == beams.size() ? 1 : 0);
            const double value = arriving.segment(from, count).sum();
            if (!(value > 0)) continue;
            for (std::size_t i = 0; i < upper_.size(); ++i) parts[i] += value * beams[b][i];
        }
        const double below = (ground * through).sum();
        for (std::size_t i = 0; i < lower_.size(); ++i)
            parts[upper_.size() + i] = below * lower_[i].solid_angle;
        out.sun.push_back((direct * through).sum());
    }
    return out;
}

std::vector<Way> OutdoorLight::to_sun(std::size_t point, const Vec3& sun) const {
    std::vector<Way> ways;
    for (const Vec3& ray : disc(sun)) ways.push_back(ways_->along(points_[point], ray));
    return ways;
}

Vec3 OutdoorLight::normal_at(std::size_t point, const Worth& worth, const Outside& now,
                             std::span<const Way> sun, const Facing& facing) const {
    if (facing.kind == Facing::Kind::up || facing.kind == Facing::Kind::back) return Vec3::UnitZ();
    if (facing.kind == Facing::Kind::fixed) return facing.normal;
    std::vector<light::Beam> beams;
    Vec3 all = Vec3::Zero();
    const auto add = [&](const Vec3& direction, double value) {
        if (!(value > 0)) return;
        beams.push_back({value * direction});
        all += beams.back().flux;
    };
    const auto& ways = sky_[point];
    for (std::size_t i = 0; i < ways.size(); ++i) {
        const Part& part = i < upper_.size() ? upper_[i] : lower_[i - upper_.size()];
        add(part.direction, static_cast<double>(ways[i].through) * worth.sky[ways[i].kind][i]);
    }
    double beam = 0;
    for (const Way& way : sun) beam += static_cast<double>(way.through) * worth.sun[way.kind] / sun_rays;
    add(now.to_sun, beam);
    return light::best_normal(beams, std::array<Vec3, 2>{all, now.to_sun});
}

std::vector<double> OutdoorLight::values(const Outside& now, Quantity quantity, const Facing& facing) const {
    std::vector<double> result(points_.size(), 0.0);
    if (now.dark()) return result;
    std::vector<std::vector<Way>> sun(
        points_.size());  // first: a ray may meet panes at an angle not met before
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) { sun[i] = to_sun(i, now.to_sun); });
    const Worth w = worth(now, spectrum::weight(quantity));
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) {
        const Vec3 normal = normal_at(i, w, now, sun[i], facing);
        const auto& ways = sky_[i];
        double sum = 0;
        for (std::size_t p = 0; p < ways.size(); ++p) {
            const Part& part = p < upper_.size() ? upper_[p] : lower_[p - upper_.size()];
            sum += static_cast<double>(ways[p].through) * w.sky[ways[p].kind][p] *
                   received(facing, normal, part.direction);
        }
        for (const Way& way : sun[i]) {
            sum += static_cast<double>(way.through) * w.sun[way.kind] / sun_rays *
                   received(facing, normal, now.to_sun);
        }
        result[i] = sum;
    });
    return result;
}

Spectrum OutdoorLight::spectrum_at(std::size_t point, const Outside& now, const Facing& facing) const {
    Spectrum sum = spectrum::constant(0);
    if (now.dark()) return sum;
    const auto sun = to_sun(point, now.to_sun);
    const Vec3 normal = normal_at(point, worth(now, spectrum::weight(Quantity::uvi)), now, sun, facing);

    // Light of the sky by kind of panes and band, of the ground and of the sun by kind.
    const std::size_t kinds = ways_->kinds();
    std::vector<light::Bands> sky(kinds, light::Bands::Zero());
    std::vector<double> ground(kinds, 0.0), beam(kinds, 0.0);
    const auto& ways = sky_[point];
    for (std::size_t b = 0; b < static_cast<std::size_t>(light::bands); ++b) {
        const auto beams = sky_beams(now.conditions, now.light, middle_of_band(b), now.to_sun, upper_);
        for (std::size_t i = 0; i < upper_.size(); ++i) {
            sky[ways[i].kind][static_cast<Eigen::Index>(b)] += static_cast<double>(ways[i].through) *
                                                               beams[i] *
                                                               received(facing, normal, upper_[i].direction);
        }
    }
    for (std::size_t i = 0; i < lower_.size(); ++i) {
        const Way& way = ways[upper_.size() + i];
        ground[way.kind] += static_cast<double>(way.through) * lower_[i].solid_angle *
                            received(facing, normal, lower_[i].direction);
    }
    for (const Way& way : sun) {
        beam[way.kind] += static_cast<double>(way.through) / sun_rays * received(facing, normal, now.to_sun) /
                          now.to_sun.z();
    }
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        if (!(sky[kind] > 0).any() && !(ground[kind] > 0) && !(beam[kind] > 0)) continue;
        const Spectrum from_ground =
            ground[kind] * now.conditions.albedo / std::numbers::pi * now.light.total();
        sum += ways_->transmittance(kind) * (light::staircase(sky[kind]) * now.light.diffuse + from_ground +
                                             beam[kind] * now.light.direct);
    }
    return sum;
}

std::vector<double> OutdoorLight::sun_through(const Outside& now, Quantity quantity) const {
    std::vector<double> result(points_.size(), 0.0);
    if (now.dark()) return result;
    std::vector<std::vector<Way>> sun(points_.size());
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) { sun[i] = to_sun(i, now.to_sun); });
    const Spectrum weighted = now.light.direct * spectrum::weight(quantity);
    const double whole = weighted.sum();
    if (!(whole > 0)) return result;
    std::vector<double> by_kind;
    for (std::size_t kind = 0; kind < ways_->kinds(); ++kind) {
        by_kind.push_back((ways_->transmittance(kind) * weighted).sum() / whole);
    }
    for (std::size_t i = 0; i < points_.size(); ++i) {
        for (const Way& way : sun[i])
            result[i] += static_cast<double>(way.through) * by_kind[way.kind] / sun_rays;
    }
    return result;
}

}  // namespace dapple::sky
