// Sun and sky in an enclosure that stands outdoors.
//
// The way from each place to every part of the sky is followed once (sky/way_out.h) and kept for the whole day; the sun's
// own ray is followed at each moment, by seven rays over its disc of half a degree. What lies below the horizon is ground
// of the site's albedo, evenly lit. Compass: the enclosure's +y axis points to `bearing_deg`, +x a right angle clockwise of
// it. Light reflected inside the enclosure is left out: 2-10 % of the ultraviolet for most materials, more beside white
// walls.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "light/facing.h"
#include "scene/enclosure.h"
#include "sky/day.h"
#include "sky/radiance.h"
#include "sky/way_out.h"
#include "spectrum/quantity.h"

namespace dapple::sky {

// The outside world at one moment, in the enclosure's frame.
struct Outside {
    scene::Vec3 to_sun;     // unit, as seen
    Daylight light;         // horizontal, with cloud and forecast in it
    Conditions conditions;  // of the air

    bool dark() const { return to_sun.z() <= 0; }
};

// A direction of the compass and elevation in the frame of an enclosure with that bearing; unit.
scene::Vec3 direction_of(double azimuth_deg, double elevation_deg, double bearing_deg);

Outside outside(const OpenSky& sky, Instant time, double bearing_deg);

// By point.
struct Lit {
    std::vector<double> values;     // of the quantity
    std::vector<double> sun_share;  // of the sun's beam that gets there, by what it does to that quantity
};

class OutdoorLight {
  public:
    OutdoorLight(const scene::Enclosure& enclosure, std::vector<scene::Vec3> points);

    const std::vector<scene::Vec3>& points() const { return points_; }
    bool has_panes() const { return ways_->has_panes(); }

    // One quantity at all points, on all cores; aimed turns for that quantity.
    Lit lit(const Outside& outside, spectrum::Quantity quantity, const light::Facing& facing = {}) const;
    std::vector<double> values(const Outside& outside, spectrum::Quantity quantity,
                               const light::Facing& facing = {}) const {
        return lit(outside, quantity, facing).values;
    }

    // The spectrum at one point, W/m2/nm. An aimed receiver turns for the UVI.
    spectrum::Spectrum spectrum_at(std::size_t point, const Outside& outside,
                                   const light::Facing& facing = {}) const;

    // The share of the sun's ray that gets to each point, by what it does to that quantity: shadow over the day.
    std::vector<double> sun_through(const Outside& outside, spectrum::Quantity quantity) const {
        return lit(outside, quantity, light::Facing::up()).sun_share;
    }

  private:
    // A part of the sky or of the ground behind one kind of panes. The same few are seen from every point.
    struct Seen {
        std::uint32_t part;  // upper parts first
        std::uint32_t kind;
    };
    struct Ray {
        float through;
        std::uint32_t seen;  // an index of seen_
    };
    struct Worth;  // what each of them, and the sun, is worth
    const Part& part(std::size_t i) const {
        return i < upper_.size() ? upper_[i] : lower_[i - upper_.size()];
    }
    Worth worth(const Outside& outside, const spectrum::Spectrum& weight, std::span<const Way> sun) const;
    std::vector<Way> to_sun(std::size_t point, const scene::Vec3& sun) const;
    scene::Vec3 normal_at(std::size_t point, const Worth& worth, const Outside& outside, double beam,
                          const light::Facing& facing) const;

    std::vector<scene::Vec3> points_;
    std::unique_ptr<WaysOut> ways_;
    std::vector<Part> upper_, lower_;
    std::vector<Seen> seen_;
    std::vector<std::vector<Ray>> sky_;  // by point; what is dark is left out
};

}  // namespace dapple::sky
