#include "inference/life_place.h"

#include <fmt/format.h>

#include <algorithm>

#include "husbandry/verdict.h"
#include "inference/readings_cells.h"
#include "inference/readings_table.h"

namespace dapple::inference {

namespace {

template <class Things>
std::string ids_like(const Things& things, const std::string& word) {
    std::vector<std::string> ids;
    for (const auto& thing : things) ids.push_back(thing.id);
    const std::string near = nearest(word, ids);
    const std::string all =
        ids.empty() ? "none: the document has none" : fmt::format("{}", fmt::join(ids, ", "));
    return near.empty() ? all : fmt::format("{}, perhaps; all: {}", in_quotes(near), all);
}

template <class Things>
auto named(const Things& things, const std::string& word) {
    const auto by_id =
        std::find_if(things.begin(), things.end(), [&](const auto& thing) { return thing.id == word; });
    if (by_id != things.end()) return by_id;
    return std::find_if(things.begin(), things.end(), [&](const auto& thing) {
        return normalised(thing.name) == normalised(word) || normalised(thing.id) == normalised(word);
    });
}

using Animals = std::vector<husbandry::AnimalJudgement>;

std::optional<double> low_of(const scene::Place& spot, const Animals& animals) {
    if (animals.empty()) return std::nullopt;
    const auto own = std::find_if(animals.begin(), animals.end(), [&](const auto& animal) {
        return !spot.animal.empty() && (animal.named == spot.animal || animal.species.id == spot.animal);
    });
    const auto& band = own == animals.end() ? animals.front().band : own->band;
    return band ? std::optional(band->low) : std::nullopt;
}

}  // namespace

Expected<std::size_t> lamp_index(const scene::Enclosure& enclosure, const LifeReading& reading,
                                 const std::string& file) {
    const auto lamp = named(enclosure.lamps, reading.lamp);
    if (lamp != enclosure.lamps.end()) return static_cast<std::size_t>(lamp - enclosure.lamps.begin());
    return refuse({file, reading.place, "the lamp " + in_quotes(reading.lamp),
                   "a lamp of the document: " + ids_like(enclosure.lamps, reading.lamp)});
}

Expected<std::string> spot_id(const scene::Enclosure& enclosure, const LifeReading& reading,
                              const std::string& file) {
    if (reading.spot.empty()) {
        const auto bask = std::find_if(enclosure.spots.begin(), enclosure.spots.end(),
                                       [](const scene::Place& s) { return s.role == scene::Role::bask; });
        if (bask != enclosure.spots.end()) return bask->id;
        if (enclosure.spots.size() == 1) return enclosure.spots.front().id;
        return refuse(
            {file, reading.place, "no spot", "a spot of the document: " + ids_like(enclosure.spots, "")});
    }
    const auto spot = named(enclosure.spots, reading.spot);
    if (spot != enclosure.spots.end()) return spot->id;
    return refuse({file, reading.place, "the spot " + in_quotes(reading.spot),
                   "a spot of the document: " + ids_like(enclosure.spots, reading.spot)});
}

Expected<LifePlace> life_place(const light::Field& field, std::size_t index, spectrum::Quantity quantity) {
    const scene::Enclosure& enclosure = field.enclosure();
    const scene::Lamp& lamp = enclosure.lamps[index];
    const auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    LifePlace place;
    place.lamp_name = lamp.name;
    place.history = {kind_of(lamp), lamp.hours_on, day_of(lamp.installed)};
    for (const scene::Place& spot : enclosure.spots) {
        LifeSpot& there = place.spots[spot.id];
        there.name = spot.name;
        there.bask = spot.role == scene::Role::bask;
        if (quantity == spectrum::Quantity::uvi) there.low = low_of(spot, *animals);
        const light::Arrival arrival = field.at(husbandry::reading_point(spot, *animals));
        there.own = arrival.measure(quantity, static_cast<int>(index));
        there.others = std::max(0.0, arrival.measure(quantity) - there.own);
    }
    return place;
}

}  // namespace dapple::inference
