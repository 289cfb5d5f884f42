#include "server/demo_filled.h"

#include <stdlib.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "husbandry/verdict.h"
#include "inference/readings_repeats.h"
#include "scene/document.h"
#include "server/demo.h"

namespace dapple::server {

using nlohmann::json;

std::string words_of(const record::Refusal& refusal) {
    return std::string(record::name(refusal.trouble)) + ": " + to_text(refusal.problems);
}

Filled::Filled(inference::Day day) {
    std::string folder = (std::filesystem::temp_directory_path() / "dapple demo XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) throw std::runtime_error("no temporary folder");
    folder_ = folder;
    record::StoreOptions options;
    options.database = (folder_ / "record.sqlite").string();
    auto opened = record::Store::open(options);
    if (!opened) throw std::runtime_error(words_of(opened.error()));
    store_ = std::move(*opened);
    const auto filled = fill_demo(*store_, day);
    if (!filled) throw std::runtime_error(words_of(filled.error()));
}

Filled::~Filled() {
    store_.reset();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

std::vector<record::Thing> Filled::all(const std::string& kind) const {
    std::vector<record::Thing> things;
    record::Query query{.kind = kind, .retired = true};
    do {
        const auto page = store_->list(query);
        if (!page) throw std::runtime_error(words_of(page.error()));
        things.insert(things.end(), page->things.begin(), page->things.end());
        query.after = page->next;
    } while (!query.after.empty());
    return things;
}

scene::Enclosure Filled::enclosure(const std::string& id) const {
    const auto thing = store_->find("enclosure", id);
    if (!thing) throw std::runtime_error(words_of(thing.error()));
    return parsed(thing->fields["document"]);
}

scene::Enclosure Filled::parsed(const json& document) const {
    scene::ReadOptions options;
    options.read_file = [this](const std::string& name) -> std::optional<std::string> {
        const auto kept = store_->list({.kind = "file", .equal = {{"name", name}}});
        if (!kept || kept->things.empty()) return std::nullopt;
        return kept->things.front().fields["text"].get<std::string>();
    };
    const auto enclosure = scene::parse_enclosure(document.dump(), options);
    if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
    return *enclosure;
}

std::vector<inference::Reading> Filled::last_survey(const scene::Enclosure& enclosure) const {
    const auto surveys = store_->list({.kind = "survey", .equal = {{"enclosure", enclosure.id}}});
    const auto values = store_->list(
        {.kind = "reading", .equal = {{"survey", surveys->things.front().id}, {"quantity", "uvi"}}});
    const auto animals = husbandry::resolve_animals(enclosure);
    std::map<std::string, inference::Reading> sets;
    for (const record::Thing& one : values->things) {
        const json& fields = one.fields;
        const std::string spot = fields.value("spot", "");
        const std::string where =
            spot.empty() ? fields["x_cm"].dump() + fields["y_cm"].dump() + fields["z_cm"].dump() : spot;
        inference::Reading& set = sets[where];
        set.where = where;
        set.spot = spot;
        set.quantity = spectrum::Quantity::uvi;
        set.meter = fields["meter"];
        if (spot.empty()) {
            set.point = scene::Vec3(fields["x_cm"], fields["y_cm"], fields["z_cm"]) / 100;
        } else {
            const auto place = std::find_if(enclosure.spots.begin(), enclosure.spots.end(),
                                            [&](const scene::Place& s) { return s.id == spot; });
            set.point = husbandry::reading_point(*place, *animals);
        }
        set.values.push_back(fields["value"].get<double>() * 1.03);  // by the meter's calibration
    }
    std::vector<inference::Reading> readings;
    for (auto& [where, set] : sets) {
        const auto robust = inference::summarise(set.values);
        set.value = robust.value;
        set.scatter = robust.scatter;
        readings.push_back(std::move(set));
    }
    return readings;
}

const Filled& demo() {
    static const Filled filled(demo_day);
    return filled;
}

}  // namespace dapple::server
