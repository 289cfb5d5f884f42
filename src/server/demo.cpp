#include "server/demo.h"

#include <fmt/format.h>

#include "embedded/files.h"
#include "husbandry/verdict.h"
#include "light/field.h"
#include "server/demo_readings.h"
#include "server/demo_story.h"

namespace dapple::server {

namespace {

using inference::Day;
using nlohmann::json;
using record::Write;

constexpr const char* story_path = "demo/story.json";

Write making(const std::string& kind, const std::string& id, const std::string& site, json fields) {
    Write write;
    write.kind = kind;
    write.id = id;
    write.site = site;
    write.fields = std::move(fields);
    return write;
}

// "Right end of the rail 0.8 -> 1.9 UVI": what the documents lead one to expect at every place to bask.
Expected<std::string> effect_in_words(const scene::Enclosure& before, const scene::Enclosure& after) {
    const auto animals = husbandry::resolve_animals(before);
    if (!animals) return tl::unexpected(animals.error());
    const light::Field now(before);
    const light::Field then(after);
    std::string words = "Computed:";
    for (const scene::Place& spot : before.spots) {
        if (spot.role != scene::Role::bask) continue;
        const scene::Vec3 point = husbandry::reading_point(spot, *animals);
        const auto uvi = [&](const light::Field& field) {
            return field.at(point).measure(spectrum::Quantity::uvi);
        };
        words += fmt::format(" {} {:.1f} -> {:.1f} UVI.", spot.name, uvi(now), uvi(then));
    }
    return words;
}

Expected<json> task_of(const json& told, const DemoStory& story) {
    json fields = told.at("fields");
    if (!told.contains("change")) return fields;
    const auto enclosure = story.enclosure(fields.at("enclosure"));
    if (!enclosure) return tl::unexpected(enclosure.error());
    const json changed = (*enclosure)->fields["document"].patch(told["change"]);
    std::map<std::string, std::string> files;
    const auto after = parse_demo_document(changed, files);
    if (!after) return tl::unexpected(after.error());
    const auto effect = effect_in_words((*enclosure)->scene, *after);
    if (!effect) return tl::unexpected(effect.error());
    fields["fix"] = changed;
    fields["note"] = *effect;
    return fields;
}

// Everything of the story, each thing after those it refers to.
Expected<std::vector<Write>> told(const DemoStory& story, Day today) {
    const std::string site = story.site.at("id");
    std::vector<Write> writes = {making("site", site, "", story.site.at("fields"))};
    const auto add = [&](const std::string& kind, const std::string& id, json fields) {
        writes.push_back(making(kind, id, site, std::move(fields)));
    };
    for (const json& room : story.rooms) add("room", room.at("id"), room.at("fields"));
    for (const auto& [name, text] : story.files) add("file", "", {{"name", name}, {"text", text}});
    for (const DemoEnclosure& one : story.enclosures) add("enclosure", one.scene.id, one.fields);
    for (const DemoLamp& lamp : story.lamps) {
        add("lamp", lamp.id, lamp.fields);
        for (const json& event : lamp.events) add("lamp_event", "", event);
    }
    for (const json& thing : story.things) add(thing.at("kind"), thing.at("id"), thing.at("fields"));
    for (const json& task : story.tasks) {
        auto fields = task_of(task, story);
        if (!fields) return tl::unexpected(fields.error());
        add("task", task.at("id"), std::move(*fields));
    }
    for (std::size_t part = 0; part < story.surveys.size(); ++part) {
        auto readings = demo_readings(story, part, today);
        if (!readings) return tl::unexpected(readings.error());
        writes.insert(writes.end(), std::make_move_iterator(readings->begin()),
                      std::make_move_iterator(readings->end()));
    }
    return writes;
}

}  // namespace

record::Result<void> fill_demo(record::Store& store, Day today) {
    try {
        const auto text = embedded::find(embedded::data(), story_path);
        const auto story = read_demo_story(text.value_or("{}"), today);
        if (!story) return record::refuse_as(record::Trouble::invalid, story.error());
        const auto writes = told(*story, today);
        if (!writes) return record::refuse_as(record::Trouble::invalid, writes.error());
        const auto written = store.write_all({}, *writes);
        if (!written) return tl::unexpected(written.error());
        return {};
    } catch (const json::exception& fault) {
        return record::refuse_as(record::Trouble::invalid, {"data/demo/story.json", "", fault.what(),
                                                            "a story as data/demo/README.md tells"});
    }
}

}  // namespace dapple::server
