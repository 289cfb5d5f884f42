// A record to measure with: the example enclosures over and over, each with a lamp and readings of its spots as the engine
// computes them and a hand would take them.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "light/field.h"
#include "making.h"
#include "record/store.h"
#include "scene/document.h"

namespace dapple::bench {

inline const std::vector<std::string> example_names = {"gravel-plain",  "dry-wall",   "olive-terrace",
                                                       "reed-margin",   "cloud-oak",  "heath-edge",
                                                       "river-thicket", "fern-gully", "moss-bank"};

inline std::string text_of(const std::string& name) {
    std::ifstream in(std::string(DAPPLE_ROOT) + "/examples/" + name, std::ios::binary);
    if (!in) {
        fmt::print(stderr, "examples/{} is missing\n", name);
        std::exit(1);
    }
    return {std::istreambuf_iterator<char>(in), {}};
}

// An example enclosure with the UVI at its spots, as computed.
struct Place {
    nlohmann::json document;
    std::vector<double> uvi;
};

inline Place place_of(const std::string& name) {
    Place place{nlohmann::json::parse(text_of(name + ".json")), {}};
    scene::ReadOptions options;
    options.read_file = [](const std::string& file) -> std::optional<std::string> { return text_of(file); };
    const auto enclosure = scene::parse_enclosure(place.document.dump(), options);
    const auto animals =
        enclosure ? husbandry::resolve_animals(*enclosure) : tl::unexpected(enclosure.error());
    if (!animals) std::exit(1);
    const light::Field field(*enclosure);
    for (const scene::Place& spot : enclosure->spots) {
        const auto there = field.at(husbandry::reading_point(spot, *animals));
        place.uvi.push_back(there.measure(spectrum::Quantity::uvi));
    }
    return place;
}

// As a meter would show it: lamps that fade by a fifth a year, a hand that errs by six in a hundred, tenths.
inline nlohmann::json reading_of(const std::string& enclosure, const Place& place, std::size_t spot,
                                 int survey, std::mt19937& random) {
    std::normal_distribution<double> error(0, 0.06);
    const double value = place.uvi[spot] * std::exp(-0.2 * survey / 30.0 + error(random));
    return {
        {"enclosure", enclosure},
        {"spot", place.document["spots"][spot]["id"]},
        {"quantity", "uvi"},
        {"value", std::round(10 * value) / 10},
        {"taken_at", fmt::format("2026-{:02}-{:02}T10:00:00Z", 1 + survey / 3 % 10, 1 + 9 * (survey % 3))}};
}

// The example enclosures over and over, each with a lamp and readings of all its spots, month after month.
inline void fill(record::Store& store, int enclosures, int readings, const std::vector<std::string>& names) {
    std::vector<Place> examples;
    for (const std::string& name : names) examples.push_back(place_of(name));
    std::mt19937 random(1);
    std::vector<record::Write> places;
    std::vector<record::Write> rest;
    for (int i = 0; i < enclosures; ++i) {
        const Place& place = examples[static_cast<std::size_t>(i) % examples.size()];
        nlohmann::json document = place.document;
        const std::string id = fmt::format("e{:03}", i);
        document["id"] = id;
        document["name"] = fmt::format("{} ({})", document["name"].get<std::string>(), i);
        rest.push_back(making("lamp", {{"name", "Lamp " + id},
                                       {"enclosure", id},
                                       {"place", document["lamps"][0]["id"]},
                                       {"installed_on", "2025-12-01"},
                                       {"hours_on", 12}}));
        const auto spots = static_cast<int>(place.uvi.size());
        for (int r = 0; r < readings; ++r) {
            rest.push_back(making(
                "reading", reading_of(id, place, static_cast<std::size_t>(r % spots), r / spots, random)));
        }
        places.push_back(making("enclosure", {{"document", std::move(document)}}));
    }
    store_all(store, {making("site", {{"name", "Hill House"}}, "home")});
    store_all(store, places);
    store_all(store, rest);
}

inline record::StoreOptions options_of(const std::string& database) {
    record::StoreOptions options;
    options.database = database;
    options.read_file = [](const std::string& name) -> std::optional<std::string> { return text_of(name); };
    return options;
}

}  // namespace dapple::bench
