#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>

#include "husbandry/species_sheet.h"

namespace dapple::husbandry {

namespace {

using nlohmann::json;

const std::vector<std::string> known_fields = {
    "id",         "scientific_name", "group",          "family",      "synonyms", "common_names",
    "zones",      "climbs",          "back_height_cm", "habit",       "habitat",  "basking_surface_c",
    "air_warm_c", "air_cool_c",      "activity",       "photoperiod", "night_c",  "note",
    "sources"};

const std::vector<std::string> confidences = {"high", "medium", "low"};

constexpr double highest_back_cm = 200;  // above a giant tortoise or a crocodile
constexpr double coldest_c = -20;
constexpr double hottest_c = 90;

std::string shown(const json& value) {
    std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
    return text.size() <= 60 ? text : text.substr(0, 57) + "...";
}

std::string listed(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

// Reads the fields of one object and notes every fault on the way.
class Sheet {
  public:
    Sheet(const json& object, std::string file, std::string place)
        : object_(object), file_(std::move(file)), place_(std::move(place)) {}

    const json* find(const char* field) const {
        const auto it = object_.find(field);
        return it == object_.end() || it->is_null() ? nullptr : &*it;
    }
    void fault(const std::string& field, const std::string& found, const std::string& allowed) {
        problems_.push_back({file_, place_ + (field.empty() ? "" : "/" + field), found, allowed});
    }
    void only_known_fields() {
        for (const auto& [field, value] : object_.items()) {
            if (std::find(known_fields.begin(), known_fields.end(), field) != known_fields.end()) continue;
            const std::string close = nearest(field, known_fields);
            fault(field, "unknown field \"" + field + "\"",
                  close.empty() ? listed(known_fields) : "\"" + close + "\", perhaps");
        }
    }
    std::string text(const char* field) {
        const json* value = find(field);
        if (value == nullptr) return {};
        if (value->is_string()) return value->get<std::string>();
        fault(field, shown(*value), "text");
        return {};
    }
    std::vector<std::string> texts(const char* field) {
        std::vector<std::string> result;
        const json* value = find(field);
        if (value == nullptr) return result;
        const auto is_text = [](const json& v) { return v.is_string(); };
        if (!value->is_array() || !std::all_of(value->begin(), value->end(), is_text)) {
            fault(field, shown(*value), "a list of texts");
            return result;
        }
        return value->get<std::vector<std::string>>();
    }
    bool flag(const char* field) {
        const json* value = find(field);
        if (value == nullptr) return false;
        if (value->is_boolean()) return value->get<bool>();
        fault(field, shown(*value), "true or false");
        return false;
    }
    double back_height() {
        const json* value = find("back_height_cm");
        if (value == nullptr) return 0;
        const double cm = value->is_number() ? value->get<double>() : -1;
        if (cm > 0 && cm <= highest_back_cm) return cm / 100;
        fault("back_height_cm", shown(*value), fmt::format("a number above 0, at most {}", highest_back_cm));
        return 0;
    }
    std::vector<int> zones() {
        const json* value = find("zones");
        if (value == nullptr) return {};
        std::vector<int> zones;
        if (value->is_array()) {
            for (const json& zone : *value) zones.push_back(zone.is_number_integer() ? zone.get<int>() : 0);
        }
        const bool known = std::all_of(zones.begin(), zones.end(), [](int z) { return z >= 1 && z <= 4; });
        const bool adjacent = zones.size() < 2 || (zones.size() == 2 && zones[1] == zones[0] + 1);
        if (value->is_array() && known && adjacent) return zones;
        fault("zones", shown(*value), "one zone or two adjacent ones of 1, 2, 3, 4, as in [3] or [3, 4]");
        return {};
    }
    std::optional<Range> temperatures(const char* field) {
        const json* value = find(field);
        if (value == nullptr) return std::nullopt;
        if (value->is_array() && value->size() == 2 && (*value)[0].is_number() && (*value)[1].is_number()) {
            const Range range = {(*value)[0].get<double>(), (*value)[1].get<double>()};
            if (range.first >= coldest_c && range.first <= range.second && range.second <= hottest_c)
                return range;
        }
        fault(field, shown(*value),
              fmt::format("[lowest, highest] in degrees Celsius between {} and {}", coldest_c, hottest_c));
        return std::nullopt;
    }
    std::map<std::string, Provenance> sources(const Citations& citations, bool only_cited) {
        std::map<std::string, Provenance> result;
        const json* value = find("sources");
        if (value == nullptr) return result;
        if (!value->is_object()) {
            fault("sources", shown(*value), "an object of field names");
            return result;
        }
        for (const auto& [field, entry] : value->items()) {
            result[field] = source("sources/" + field, entry, citations, only_cited);
        }
        return result;
    }
    Problems problems() const { return problems_; }

  private:
    Provenance source(const std::string& place, const json& entry, const Citations& citations,
                      bool only_cited) {
        const auto text_in = [&](const char* key) {
            const auto it = entry.is_object() ? entry.find(key) : entry.end();
            return entry.is_object() && it != entry.end() && it->is_string() ? it->get<std::string>() : "";
        };
        Provenance found = {text_in("source"), text_in("confidence")};
        const bool rated =
            std::find(confidences.begin(), confidences.end(), found.confidence) != confidences.end();
        if (found.source.empty() || !rated) {
            fault(place, shown(entry), "{\"source\": text, \"confidence\": " + listed(confidences) + "}");
            return found;
        }
        if (const auto citation = citations.find(found.source); citation != citations.end()) {
            found.source = citation->second;
        } else if (only_cited) {
            fault(place, "source \"" + found.source + "\"", "a key of the file's \"sources\"");
        }
        return found;
    }

    const json& object_;
    std::string file_;
    std::string place_;
    Problems problems_;
};

json pair_or_null(const std::optional<Range>& range) {
    return range ? json::array({range->first, range->second}) : json(nullptr);
}

}  // namespace

std::string scientific_name_of(std::string_view id) {
    std::string name(id);
    std::replace(name.begin(), name.end(), '_', ' ');
    if (!name.empty()) name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
    return name;
}

Expected<Species> read_sheet(const json& object, const std::string& file, const std::string& place,
                             const Citations& citations, bool only_cited) {
    if (!object.is_object()) return refuse({file, place, shown(object), "a species object"});
    Sheet sheet(object, file, place);
    sheet.only_known_fields();
    Species s;
    s.id = sheet.text("id");
    if (s.id.empty()) sheet.fault("id", "no id", "a name such as \"pogona_vitticeps\"");
    s.scientific_name = sheet.text("scientific_name");
    if (s.scientific_name.empty()) s.scientific_name = scientific_name_of(s.id);
    s.group = sheet.text("group");
    s.family = sheet.text("family");
    s.synonyms = sheet.texts("synonyms");
    s.common_names = sheet.texts("common_names");
    s.zones = sheet.zones();
    s.back_height = sheet.back_height();
    s.climbs = sheet.flag("climbs");
    s.habit = sheet.text("habit");
    s.activity = sheet.text("activity");
    s.habitat = sheet.text("habitat");
    s.basking_surface_c = sheet.temperatures("basking_surface_c");
    s.air_warm_c = sheet.temperatures("air_warm_c");
    s.air_cool_c = sheet.temperatures("air_cool_c");
    s.night_c = sheet.temperatures("night_c");
    s.photoperiod = sheet.text("photoperiod");
    s.note = sheet.text("note");
    s.sources = sheet.sources(citations, only_cited);
    if (const Problems problems = sheet.problems(); !problems.empty()) return tl::unexpected(problems);
    return s;
}

Expected<Species> parse_species(std::string_view text, const std::string& file, const std::string& place) {
    try {
        return read_sheet(json::parse(text), file, place);
    } catch (const json::exception& fault) {
        return refuse(
            {file, place, std::string("text that is no JSON: ") + fault.what(), "a species object"});
    }
}

json to_json(const Species& s) {
    json names = json::array({s.scientific_name});
    for (const std::string& name : s.common_names) names.push_back(name);
    for (const std::string& name : s.synonyms) names.push_back(name);
    json sources = json::object();
    for (const auto& [field, from] : s.sources) {
        sources[field] = {{"source", from.source}, {"confidence", from.confidence}};
    }
    const std::optional<Band> band = band_of(s.zones);
    return {{"id", s.id},
            {"scientific_name", s.scientific_name},
            {"names", names},
            {"common_names", s.common_names},
            {"synonyms", s.synonyms},
            {"group", s.group},
            {"family", s.family},
            {"zones", s.zones},
            {"band", band ? json::array({band->low, band->high}) : json(nullptr)},
            {"ceiling", band ? json(band->ceiling) : json(nullptr)},
            {"back_height_cm", s.back_height > 0 ? json(s.back_height * 100) : json(nullptr)},
            {"climbs", s.climbs},
            {"habit", s.habit},
            {"activity", s.activity},
            {"habitat", s.habitat},
            {"basking_surface_c", pair_or_null(s.basking_surface_c)},
            {"air_warm_c", pair_or_null(s.air_warm_c)},
            {"air_cool_c", pair_or_null(s.air_cool_c)},
            {"night_c", pair_or_null(s.night_c)},
            {"photoperiod", s.photoperiod},
            {"note", s.note},
            {"estimate", s.estimate},
            {"sources", sources}};
}

}  // namespace dapple::husbandry
