#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "husbandry/verdict.h"

namespace dapple::husbandry {

namespace {

using nlohmann::json;

template <class T>
json or_null(const std::optional<T>& value) {
    return value ? json(*value) : json(nullptr);
}

json pair_or_null(const std::optional<Range>& range) {
    return range ? json::array({range->first, range->second}) : json(nullptr);
}

json as_json(const Part& part) {
    return {{"holds", or_null(part.holds)}, {"probability", or_null(part.probability)}, {"why", part.why}};
}

json as_json(const Verdict& v) {
    return {{"basking", as_json(v.basking)},   {"retreat", as_json(v.retreat)},
            {"ceiling", as_json(v.ceiling)},   {"gradient", as_json(v.gradient)},
            {"together", as_json(v.together)}, {"overall", as_json(v.overall)}};
}

json as_json(const ReachProfile& reach) {
    json quantiles = json::object();
    for (const auto& [share, uvi] : reach.quantiles) quantiles[fmt::format("{:g}", share)] = uvi;
    return {{"quantiles", quantiles},
            {"area_m2", reach.area},
            {"share_in_band", reach.share_in_band},
            {"share_in_shade", reach.share_in_shade}};
}

json as_json(const SpotReading& spot) {
    const auto cm = [](double m) { return std::round(m * 1e6) / 1e4; };  // no digits of binary rounding
    return {{"id", spot.id},
            {"name", spot.name},
            {"point_cm", {cm(spot.point.x()), cm(spot.point.y()), cm(spot.point.z())}},
            {"uvi", spot.uvi},
            {"interval", pair_or_null(spot.interval)}};
}

json as_json(const AnimalJudgement& animal) {
    const Species& s = animal.species;
    json states = json::object();
    for (const auto& [spot, state] : animal.states) states[spot] = name(state);
    json band = nullptr;
    json ceiling = nullptr;
    if (animal.band) {
        band = {animal.band->low, animal.band->high};
        ceiling = animal.band->ceiling;
    }
    return {{"species", s.id},
            {"scientific_name", s.scientific_name},
            {"name", s.common_names.empty() ? s.scientific_name : s.common_names.front()},
            {"count", animal.count},
            {"estimate", s.estimate},
            {"zones", s.zones},
            {"band", band},
            {"ceiling", ceiling},
            {"back_height_cm", std::round(s.back_height * 1e6) / 1e4},
            {"climbs", s.climbs},
            {"basking_surface_c", pair_or_null(s.basking_surface_c)},
            {"air_warm_c", pair_or_null(s.air_warm_c)},
            {"air_cool_c", pair_or_null(s.air_cool_c)},
            {"night_c", pair_or_null(s.night_c)},
            {"states", states},
            {"reach", as_json(animal.reach)},
            {"verdict", as_json(animal.verdict)}};
}

template <class T>
json list(const std::vector<T>& things) {
    json array = json::array();
    for (const T& thing : things) array.push_back(as_json(thing));
    return array;
}

}  // namespace

json to_json(const Judgement& judgement) {
    return {{"enclosure", judgement.enclosure},
            {"spots", list(judgement.spots)},
            {"animals", list(judgement.animals)},
            {"notes", judgement.notes}};
}

}  // namespace dapple::husbandry
