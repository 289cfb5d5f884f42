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

// The points whose light is wanted: the spots, then each animal's reach.
struct Wanted {
    std::vector<OutdoorSpot> spots;
    std::vector<Reach> reaches;
    std::vector<Vec3> points;
};

Wanted wanted_of(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
                 const OutdoorOptions& options) {
    Wanted wanted{spots_of(enclosure, animals), {}, {}};
    for (const OutdoorSpot& spot : wanted.spots) wanted.points.push_back(spot.point);
    for (const AnimalJudgement& animal : animals) {
        ReachOptions reach;
        reach.spacing = options.spacing;
        reach.most_points = options.most_points;
        wanted.reaches.push_back(
            reach_of(enclosure, animal.species.back_height, animal.species.climbs, reach));
        const auto& points = wanted.reaches.back().points;
        wanted.points.insert(wanted.points.end(), points.begin(), points.end());
    }
    return wanted;
}

}  // namespace

OutdoorDay outdoor_day(const scene::Enclosure& enclosure, const std::vector<AnimalJudgement>& animals,
                       const sky::OpenSky& sky, const std::vector<sky::Moment>& curve, double bearing_deg,
                       const OutdoorOptions& options) {
    Wanted wanted = wanted_of(enclosure, animals, options);
    const sky::OutdoorLight light(enclosure, wanted.points);
    const std::vector<Vec3> spot_points(wanted.points.begin(),
                                        wanted.points.begin() + std::ssize(wanted.spots));
    const sky::OutdoorLight spot_light(enclosure, spot_points);

    OutdoorDay day;
    day.behind_panes = light.has_panes();
    day.spots = std::move(wanted.spots);
    for (const AnimalJudgement& animal : animals) day.animals.push_back({animal.named, animal.band, {}, {}});
    std::vector<double> best(day.spots.size(), 0.0);
    for (const sky::Moment& moment : curve) {
        day.times.push_back(moment.time);
        const bool up = moment.elevation_deg > 0;
        const sky::Outside now = up ? sky::outside(sky, moment.time, bearing_deg) : sky::Outside{};
        const auto uvi =
            up ? light.values(now, Quantity::uvi) : std::vector<double>(wanted.points.size(), 0.0);
        const auto sun =
            up ? spot_light.sun_through(now, Quantity::uvi) : std::vector<double>(day.spots.size(), 0.0);
        for (std::size_t i = 0; i < day.spots.size(); ++i) {
            OutdoorSpot& spot = day.spots[i];
            spot.uvi.push_back(uvi[i]);
            spot.sun_share.push_back(sun[i]);
            if (!day.behind_panes || !(uvi[i] > best[i])) continue;
            best[i] = uvi[i];
            const auto here = spot_light.spectrum_at(i, now, light::Facing::up());
            const auto open = now.light.total();
            spot.d3_share = measure(here, Quantity::d3) / measure(open, Quantity::d3);
            spot.uvi_share = measure(here, Quantity::uvi) / measure(open, Quantity::uvi);
        }
        auto next = uvi.begin() + std::ssize(day.spots);
        for (std::size_t a = 0; a < animals.size(); ++a) {
            const Reach& reach = wanted.reaches[a];
            const std::vector<double> values(next, next + std::ssize(reach.points));
            next += std::ssize(reach.points);
            const auto& band = animals[a].band;
            day.animals[a].share_in_band.push_back(
                up && band ? share_where(values, reach.area,
                                         [&](double v) { return v >= band->low && v <= band->high; })
                           : 0);
            day.animals[a].share_in_shade.push_back(
                share_where(values, reach.area, [&](double v) { return v <= options.shade_uvi; }));
        }
    }
    return day;
}

}  // namespace dapple::husbandry
