// The demo's story as it is read: days counted back from today become dates, documents get their lamps' dates, lamps
// their hours. data/demo/README.md tells how a story is written.
//
// Beside what the record will hold, the story has a `truth` that nobody in it knows: how fast each lamp really fades,
// what dust on a mesh takes away. Readings follow from the truth (demo_readings.h); the record never sees it.
#pragma once

#include <cstdint>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "inference/life_date.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::server {

struct DemoLamp {  // NOLINT(bugprone-exception-escape): JSON moves without throwing but for a lack of memory
    struct Stay {  // it burned in this place from one day to another
        std::string enclosure;
        std::string place;
        inference::Day from;
        inference::Day until;
    };
    std::string id;
    nlohmann::json fields;  // of the record, as of today
    nlohmann::json events;  // of the record, oldest first
    std::vector<Stay> stays;
    double hours_on;
    double strength;         // truth: of the document's output, when new
    double fades_per_1000h;  // truth: the rate of its exponential decay

    double hours_by(inference::Day day) const;
    double output_on(inference::Day day) const;  // of the document's output
    bool burns_in(const std::string& enclosure, const std::string& place, inference::Day day) const;
};

struct DemoEnclosure {
    scene::Enclosure scene;  // as the document says
    nlohmann::json fields;   // of the record, with the document
    double light;            // truth: the share of every lamp's light that arrives
    double warmer_k;         // truth: added to computed temperatures
};

struct DemoStory {  // NOLINT(bugprone-exception-escape): as above
    std::uint64_t seed;
    nlohmann::json site;   // {"id", "fields"}
    nlohmann::json rooms;  // a list of {"id", "fields"}
    std::vector<DemoEnclosure> enclosures;
    std::map<std::string, std::string> files;  // that documents name
    std::vector<DemoLamp> lamps;
    nlohmann::json things;  // animals, moves, meters, calibrations, notes: a list of {"kind", "id", "fields"}
    nlohmann::json tasks;  // {"id", "fields", "change"}: the last, where it is a fix, a JSON patch (RFC 6902)
    nlohmann::json surveys;  // demo_readings.h

    // By id; refused where the story has none.
    Expected<const DemoEnclosure*> enclosure(const std::string& id) const;
    Expected<const nlohmann::json*> thing(const std::string& id) const;
};

// Fails where a document cannot be read; throws nlohmann::json::exception where the story has another form than it
// should.
Expected<DemoStory> read_demo_story(std::string_view text, inference::Day today);

// A document whose files are those that travel in the program; `used` gathers them.
Expected<scene::Enclosure> parse_demo_document(const nlohmann::json& document,
                                               std::map<std::string, std::string>& used);

}  // namespace dapple::server
