#include "husbandry/outdoor_day.h"

#include <algorithm>

#include "husbandry/reach.h"
#include "husbandry/share.h"

namespace dapple::husbandry {

using scene::Vec3;
using spectrum::Quantity;

namespace {

constexpr double back_height_unknown = 0.05;  // m: of an animal nobody has measured

std::vector<OutdoorSpot> spots_of(const scene::Enclosure& enclosure,
                                  const std::vector<AnimalJudgement>& animals) {
    std::vector<OutdoorSpot> spots;
    for (const scene::Place& place : enclosure.spots) {
        OutdoorSpot spot;
        spot.id = place.id;
        spot.name = place.name;
        spot.role = place.role;
        spot.point = reading_point(place, animals);
        spots.push_back(std::move(spot));
    }
    if (!spots.empty()) return spots;
    double height = animals.empty() ? 0 : animals.front().species.back_height;
    if (!(height > 0)) height = back_height_unknown;
    OutdoorSpot middle;
    middle.id = "middle";
    middle.name = "the middle of the floor";
    middle.point = {enclosure.size.x() / 2, enclosure.size.y() / 2, std::min(height, enclosure.size.z() / 2)};
    spots.push_back(std::move(middle));
    return spots;
}

// The points whose light is wanted: the spots, then each animal's reach, then those of the plan.
struct Wanted {
    std::vector<OutdoorSpot> spots;
    std::vector<Reach> reaches;
    std::optional<OutdoorPlan> plan;
    std::vector<Vec3> points;
};

Wanted wanted_of(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
                 const OutdoorOptions& options) {
    Wanted wanted{spots_of(enclosure, animals), {}, {}, {}};
    for (const OutdoorSpot& spot : wanted.spots) wanted.points.push_back(spot.point);
    const auto want = [&](const std::vector<Vec3>& points) {
        wanted.points.insert(wanted.points.end(), points.begin(), points.end());
    };
    for (const AnimalJudgement& animal : animals) {
        ReachOptions reach;
        reach.spacing = options.spacing;
        reach.most_points = options.most_points;
        wanted.reaches.push_back(
            reach_of(enclosure, animal.species.back_height, animal.species.climbs, reach));
        want(wanted.reaches.back().points);
    }
    if (options.plan) {
        wanted.plan = empty_plan(enclosure, *options.plan);
        want(wanted.plan->points);
    }
    return wanted;
}

// Takes the values of one group of points after the other, in their order.
class Groups {
  public:
    explicit Groups(const std::vector<double>& values) : values_(values) {}
    std::vector<double> next(std::size_t count) {
        const auto from = values_.begin() + static_cast<std::ptrdiff_t>(at_);
        at_ += count;
        return {from, from + static_cast<std::ptrdiff_t>(count)};
    }

  private:
    const std::vector<double>& values_;
    std::size_t at_ = 0;
};

class Day {
  public:
    Day(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
        const OutdoorOptions& options)
        : animals_(animals),
          options_(options),
          wanted_(wanted_of(enclosure, animals, options)),
          light_(enclosure, wanted_.points),
          spot_light_(enclosure,
                      {wanted_.points.begin(), wanted_.points.begin() + std::ssize(wanted_.spots)}) {
        day_.behind_panes = light_.has_panes();
        day_.spots = std::move(wanted_.spots);
        day_.plan = std::move(wanted_.plan);
        for (const AnimalJudgement& animal : animals)
            day_.animals.push_back({animal.named, animal.band, {}, {}});
    }

    void add(sky::Instant time, const std::optional<sky::Outside>& now) {
        day_.times.push_back(time);
        const std::vector<double> nothing(light_.points().size(), 0.0);
        const sky::Lit lit = now ? light_.lit(*now, Quantity::uvi) : sky::Lit{nothing, nothing};
        Groups uvi(lit.values), sun(lit.sun_share);
        add_spots(uvi.next(day_.spots.size()), sun.next(day_.spots.size()), now);
        for (std::size_t a = 0; a < animals_.size(); ++a) {
            const Reach& reach = wanted_.reaches[a];
            sun.next(reach.points.size());
            add_reach(a, uvi.next(reach.points.size()), now.has_value());
        }
        if (day_.plan && now) {
            const std::size_t count = day_.plan->points.size();
            day_.plan->add(time, uvi.next(count), sun.next(count));
        }
    }

    OutdoorDay finish() && {
        for (OutdoorSpot& spot : day_.spots) set_shares(spot);
        return std::move(day_);
    }

  private:
    void add_spots(const std::vector<double>& uvi, const std::vector<double>& sun,
                   const std::optional<sky::Outside>& now) {
        std::vector<double> flat_uvi(day_.spots.size(), 0.0), flat_d3 = flat_uvi;
        if (now) {
            flat_uvi = spot_light_.values(*now, Quantity::uvi, light::Facing::up());
            flat_d3 = spot_light_.values(*now, Quantity::d3, light::Facing::up());
            open_.push_back(
                {measure(now->light.total(), Quantity::uvi), measure(now->light.total(), Quantity::d3)});
        } else {
            open_.push_back({});
        }
        for (std::size_t i = 0; i < day_.spots.size(); ++i) {
            day_.spots[i].uvi.push_back(uvi[i]);
            day_.spots[i].sun_share.push_back(sun[i]);
            day_.spots[i].flat.push_back({flat_uvi[i], flat_d3[i]});
        }
    }

    void add_reach(std::size_t a, const std::vector<double>& uvi, bool up) {
        const auto& area = wanted_.reaches[a].area;
        const auto& band = animals_[a].band;
        day_.animals[a].share_in_band.push_back(
            up && band ? share_where(uvi, area, [&](double v) { return v >= band->low && v <= band->high; })
                       : 0);
        day_.animals[a].share_in_shade.push_back(
            share_where(uvi, area, [&](double v) { return v <= options_.shade_uvi; }));
    }

    void set_shares(OutdoorSpot& spot) const {
        const auto best = std::max_element(spot.uvi.begin(), spot.uvi.end());
        if (best == spot.uvi.end() || !(*best > 0)) return;
        const auto i = static_cast<std::size_t>(best - spot.uvi.begin());
        spot.uvi_share = spot.flat[i].uvi / open_[i].uvi;
        spot.d3_share = spot.flat[i].d3_w_m2 / open_[i].d3_w_m2;
    }

    const std::vector<AnimalJudgement>& animals_;
    const OutdoorOptions& options_;
    Wanted wanted_;
    sky::OutdoorLight light_, spot_light_;
    std::vector<sky::Uv> open_;  // by moment, horizontal
    OutdoorDay day_;
};

}  // namespace

OutdoorDay outdoor_day(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
                       const sky::OpenSky& sky, const std::vector<sky::Moment>& curve, double bearing_deg,
                       const OutdoorOptions& options) {
    Day day(enclosure, animals, options);
    for (const sky::Moment& moment : curve) {
        const bool up = moment.elevation_deg > 0;
        day.add(moment.time, up ? std::optional(sky::outside(sky, moment.time, bearing_deg)) : std::nullopt);
    }
    return std::move(day).finish();
}

}  // namespace dapple::husbandry
