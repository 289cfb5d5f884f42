#include "sky/outdoors.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "light/aim.h"
#include "light/bands.h"

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

// Where a weight is more than nothing.
std::pair<Eigen::Index, Eigen::Index> range_of(const Spectrum& weight) {
    Eigen::Index first = 0, last = weight.size() - 1;
    while (first < last && weight[first] == 0) ++first;
    while (last > first && weight[last] == 0) --last;
    return {first, last - first + 1};
}

// The part of a band that lies within a range of samples, counted from the range's first.
struct Piece {
    std::size_t band;
    Eigen::Index first, count;
};

std::vector<Piece> bands_within(Eigen::Index first, Eigen::Index count) {
    std::vector<Piece> pieces;
    for (std::size_t b = 0; b < static_cast<std::size_t>(light::bands); ++b) {
        const bool last = b + 1 == static_cast<std::size_t>(light::bands);
        const Eigen::Index from = std::max<Eigen::Index>(light::band_edges_nm[b] - spectrum::first_nm, first);
        const Eigen::Index to = std::min<Eigen::Index>(
            light::band_edges_nm[b + 1] - spectrum::first_nm + (last ? 1 : 0), first + count);
        if (to > from) pieces.push_back({b, from - first, to - from});
    }
    return pieces;
}

double received(const Facing& facing, const Vec3& normal, const Vec3& direction) {
    return facing.kind == Facing::Kind::back ? light::back_weight(direction.z())
                                             : std::max(0.0, normal.dot(direction));
}

}  // namespace

struct OutdoorLight::Worth {
    std::vector<double> seen;             // as seen_: irradiance facing that part
    std::map<std::uint32_t, double> sun;  // by kind: facing the sun
    double open_sun = 0;                  // without panes
    double of(std::span<const Way> ways) const {
        double sum = 0;
        for (const Way& way : ways) {
            if (way.through > 0) sum += static_cast<double>(way.through) * sun.at(way.kind) / sun_rays;
        }
        return sum;
    }
};

OutdoorLight::OutdoorLight(const scene::Enclosure& enclosure, std::vector<Vec3> points)
    : points_(std::move(points)),
      ways_(std::make_unique<WaysOut>(enclosure)),
      upper_(upper_parts(upper_rings, upper_parts_of_ring)),
      lower_(lower_parts(lower_rings, lower_parts_of_ring)),
      sky_(points_.size()) {
    const std::size_t parts = upper_.size() + lower_.size();
    std::vector<std::vector<Way>> ways(points_.size(), std::vector<Way>(parts));
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) {
        for (std::size_t p = 0; p < parts; ++p) ways[i][p] = ways_->along(points_[i], part(p).direction);
    });
    std::vector<std::map<std::uint32_t, std::uint32_t>> known(parts);  // by part: kind to index
    for (std::size_t i = 0; i < points_.size(); ++i) {
        for (std::size_t p = 0; p < parts; ++p) {
            const Way& way = ways[i][p];
            if (!(way.through > 0)) continue;
            const auto [it, fresh] = known[p].emplace(way.kind, static_cast<std::uint32_t>(seen_.size()));
            if (fresh) seen_.push_back({static_cast<std::uint32_t>(p), way.kind});
            sky_[i].push_back({way.through, it->second});
        }
    }
}

OutdoorLight::Worth OutdoorLight::worth(const Outside& now, const Spectrum& weight,
                                        std::span<const Way> sun) const {
    // Only where the weight is not nothing: of the UV index, a twentieth of the axis.
    const auto [first, count] = range_of(weight);
    const auto within = [first = first, count = count](const Spectrum& s) { return s.segment(first, count); };
    const Eigen::ArrayXd diffuse = within(now.light.diffuse) * within(weight);
    const Eigen::ArrayXd direct = within(now.light.direct) * within(weight) / now.to_sun.z();
    const Eigen::ArrayXd ground =
        now.conditions.albedo / std::numbers::pi * within(now.light.total()) * within(weight);
    const auto pieces = bands_within(first, count);
    std::vector<std::vector<double>> beams;  // by piece
    for (const Piece& piece : pieces) {
        beams.push_back(sky_beams(now.conditions, now.light, middle_of_band(piece.band), now.to_sun, upper_));
    }
    Worth out;
    std::map<std::uint32_t, std::vector<double>>
        by_kind;  // light of the sky in each piece, then of the ground
    for (const Seen& seen : seen_) {
        auto& known = by_kind[seen.kind];
        if (known.empty()) {
            const Eigen::ArrayXd through = ways_->transmittance(seen.kind, first, count);
            for (const Piece& piece : pieces)
                known.push_back((diffuse * through).segment(piece.first, piece.count).sum());
            known.push_back((ground * through).sum());
        }
        double value = 0;
        if (seen.part >= upper_.size()) {
            value = known.back() * part(seen.part).solid_angle;
        } else {
            for (std::size_t b = 0; b < pieces.size(); ++b) value += known[b] * beams[b][seen.part];
        }
        out.seen.push_back(value);
    }
    out.open_sun = direct.sum();
    for (const Way& way : sun) {
        if (!(way.through > 0)) continue;
        const auto [it, fresh] = out.sun.emplace(way.kind, 0.0);
        if (fresh) it->second = (direct * ways_->transmittance(way.kind, first, count)).sum();
    }
    return out;
}

std::vector<Way> OutdoorLight::to_sun(std::size_t point, const Vec3& sun) const {
    std::vector<Way> ways;
    for (const Vec3& ray : disc(sun)) ways.push_back(ways_->along(points_[point], ray));
    return ways;
}

Vec3 OutdoorLight::normal_at(std::size_t point, const Worth& worth, const Outside& now, double beam,
                             const Facing& facing) const {
    if (facing.kind == Facing::Kind::up || facing.kind == Facing::Kind::back) return Vec3::UnitZ();
    if (facing.kind == Facing::Kind::fixed) return facing.normal;
    std::vector<light::Beam> beams;
    Vec3 all = Vec3::Zero();
    const auto add = [&](const Vec3& direction, double value) {
        if (!(value > 0)) return;
        beams.push_back({value * direction});
        all += beams.back().flux;
    };
    for (const Ray& ray : sky_[point])
        add(part(seen_[ray.seen].part).direction, static_cast<double>(ray.through) * worth.seen[ray.seen]);
    add(now.to_sun, beam);
    return light::best_normal(beams, std::array<Vec3, 2>{all, now.to_sun});
}

Lit OutdoorLight::lit(const Outside& now, Quantity quantity, const Facing& facing) const {
    Lit result{std::vector<double>(points_.size(), 0.0), std::vector<double>(points_.size(), 0.0)};
    if (now.dark()) return result;
    std::vector<Way> sun(points_.size() *
                         sun_rays);  // first: a ray may meet panes at an angle not met before
    const auto rays = disc(now.to_sun);
    tbb::parallel_for(std::size_t{0}, sun.size(), [&](std::size_t i) {
        sun[i] = ways_->along(points_[i / sun_rays], rays[i % sun_rays]);
    });
    const Worth w = worth(now, spectrum::weight(quantity), sun);
    tbb::parallel_for(std::size_t{0}, points_.size(), [&](std::size_t i) {
        const double beam = w.of(std::span(sun).subspan(i * sun_rays, sun_rays));
        const Vec3 normal = normal_at(i, w, now, beam, facing);
        double sum = beam * received(facing, normal, now.to_sun);
        for (const Ray& ray : sky_[i]) {
            sum += static_cast<double>(ray.through) * w.seen[ray.seen] *
                   received(facing, normal, part(seen_[ray.seen].part).direction);
        }
        result.values[i] = sum;
        result.sun_share[i] = w.open_sun > 0 ? beam / w.open_sun : 0;
    });
    return result;
}

Spectrum OutdoorLight::spectrum_at(std::size_t point, const Outside& now, const Facing& facing) const {
    Spectrum sum = spectrum::constant(0);
    if (now.dark()) return sum;
    const auto sun = to_sun(point, now.to_sun);
    const Worth w = worth(now, spectrum::weight(Quantity::uvi), sun);
    const Vec3 normal = normal_at(point, w, now, w.of(sun), facing);

    // Light by kind of panes: of the sky in each band, of the ground, of the sun.
    struct Arriving {
        light::Bands sky = light::Bands::Zero();
        double ground = 0, beam = 0;
    };
    std::map<std::uint32_t, Arriving> by_kind;
    std::vector<std::vector<double>> beams;
    for (std::size_t b = 0; b < static_cast<std::size_t>(light::bands); ++b)
        beams.push_back(sky_beams(now.conditions, now.light, middle_of_band(b), now.to_sun, upper_));
    for (const Ray& ray : sky_[point]) {
        const Seen& seen = seen_[ray.seen];
        const double share =
            static_cast<double>(ray.through) * received(facing, normal, part(seen.part).direction);
        if (seen.part >= upper_.size()) {
            by_kind[seen.kind].ground += share * part(seen.part).solid_angle;
            continue;
        }
        for (std::size_t b = 0; b < beams.size(); ++b)
            by_kind[seen.kind].sky[static_cast<Eigen::Index>(b)] += share * beams[b][seen.part];
    }
    for (const Way& way : sun) {
        by_kind[way.kind].beam += static_cast<double>(way.through) / sun_rays *
                                  received(facing, normal, now.to_sun) / now.to_sun.z();
    }
    const Spectrum from_ground = now.conditions.albedo / std::numbers::pi * now.light.total();
    for (const auto& [kind, light] : by_kind) {
        sum += ways_->transmittance(kind) * (light::staircase(light.sky) * now.light.diffuse +
                                             light.ground * from_ground + light.beam * now.light.direct);
    }
    return sum;
}

}  // namespace dapple::sky
