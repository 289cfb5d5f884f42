#include "server/demo_story.h"

#include <algorithm>

#include "embedded/files.h"
#include "scene/document.h"

namespace dapple::server {

namespace {

using inference::Day;
using nlohmann::json;

constexpr const char* story_file = "data/demo/story.json";

Day days_before(Day today, const json& count) {
    return today - std::chrono::days(count.get<int>());
}

// {"days_ago": n}, wherever it stands, becomes the day n days before today.
json dated(const json& told, Day today) {
    if (!told.is_structured()) return told;
    if (told.is_object() && told.size() == 1 && told.contains("days_ago") && told["days_ago"].is_number()) {
        return inference::to_text(days_before(today, told["days_ago"]));
    }
    json result = told;
    for (json& part : result) part = dated(part, today);
    return result;
}

// Event by event: where it burns, since when, and with how many hours.
DemoLamp lamp_of(const json& told, Day today) {
    DemoLamp lamp;
    lamp.id = told.at("id");
    lamp.fields = told.at("fields");
    lamp.events = json::array();
    lamp.hours_on = lamp.fields.at("hours_on");
    lamp.strength = told.at("truth").at("strength");
    lamp.fades_per_1000h = told.at("truth").at("fades_per_1000h");
    for (const json& happened : told.at("events")) {
        const Day day = days_before(today, happened.at("days_ago"));
        if (!lamp.stays.empty()) lamp.stays.back().until = std::min(lamp.stays.back().until, day);
        json event = happened;
        event.erase("days_ago");
        event["lamp"] = lamp.id;
        event["happened_on"] = inference::to_text(day);
        event["hours"] = lamp.hours_by(day);
        for (const char* field : {"enclosure", "place", "installed_on"}) lamp.fields.erase(field);
        if (event.contains("enclosure")) {
            lamp.stays.push_back({event["enclosure"], event["place"], day, today + std::chrono::days(1)});
            lamp.fields["enclosure"] = event["enclosure"];
            lamp.fields["place"] = event["place"];
            lamp.fields["installed_on"] = event["happened_on"];
        }
        if (event["what"] == "bought") lamp.fields["bought_on"] = event["happened_on"];
        if (event["what"] == "retired") lamp.fields["retired_on"] = event["happened_on"];
        lamp.fields["hours_before"] = event["hours"];
        lamp.events.push_back(std::move(event));
    }
    return lamp;
}

// The example or the demo's own document of that id, with its lamps dated as the story has it.
Expected<json> document_of(const std::string& id, const std::vector<DemoLamp>& lamps) {
    auto bytes = embedded::find(embedded::examples(), id + ".json");
    if (!bytes) bytes = embedded::find(embedded::data(), "demo/" + id + ".json");
    if (!bytes) {
        return refuse({story_file, "/enclosures", "no document \"" + id + "\"",
                       "a document of examples/ or data/demo/"});
    }
    json document = json::parse(*bytes);
    for (json& place : document["lamps"]) {
        for (const DemoLamp& lamp : lamps) {
            if (lamp.fields.value("enclosure", "") == id && lamp.fields.value("place", "") == place["id"])
                place["installed"] = lamp.fields["installed_on"];
        }
    }
    return document;
}

Expected<DemoEnclosure> enclosure_of(const json& told, const std::vector<DemoLamp>& lamps,
                                     std::map<std::string, std::string>& files) {
    auto document = document_of(told.at("id"), lamps);
    if (!document) return tl::unexpected(document.error());
    auto scene = parse_demo_document(*document, files);
    if (!scene) return tl::unexpected(scene.error());
    json fields = told.at("fields");
    fields["document"] = std::move(*document);
    const json truth = told.value("truth", json::object());
    return DemoEnclosure{std::move(*scene), std::move(fields), truth.value("light", 1.0),
                         truth.value("warmer_k", 0.0)};
}

}  // namespace

Expected<const DemoEnclosure*> DemoStory::enclosure(const std::string& id) const {
    for (const DemoEnclosure& one : enclosures) {
        if (one.scene.id == id) return &one;
    }
    return refuse({story_file, "", "an enclosure \"" + id + "\"", "one of the story's /enclosures"});
}

Expected<const json*> DemoStory::thing(const std::string& id) const {
    for (const json& one : things) {
        if (one.at("id") == id) return &one;
    }
    return refuse({story_file, "", "\"" + id + "\"", "the id of one of the story's /things"});
}

Expected<scene::Enclosure> parse_demo_document(const json& document,
                                               std::map<std::string, std::string>& used) {
    scene::ReadOptions options;
    options.file = document.value("id", std::string(story_file));
    options.read_file = [&](const std::string& name) -> std::optional<std::string> {
        const auto bytes = embedded::find(embedded::examples(), name);
        if (!bytes) return std::nullopt;
        return used[name] = std::string(*bytes);
    };
    return scene::parse_enclosure(document.dump(), options);
}

Expected<DemoStory> read_demo_story(std::string_view text, Day today) {
    const json told = dated(json::parse(text), today);
    DemoStory story;
    story.seed = told.at("seed");
    story.site = told.at("site");
    story.rooms = told.at("rooms");
    story.things = told.at("things");
    story.tasks = told.at("tasks");
    story.surveys = told.at("surveys");
    for (const json& lamp : told.at("lamps")) story.lamps.push_back(lamp_of(lamp, today));
    Problems problems;
    for (const json& one : told.at("enclosures")) {
        auto enclosure = enclosure_of(one, story.lamps, story.files);
        if (enclosure) {
            story.enclosures.push_back(std::move(*enclosure));
        } else {
            problems.insert(problems.end(), enclosure.error().begin(), enclosure.error().end());
        }
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return story;
}

}  // namespace dapple::server
