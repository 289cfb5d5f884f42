#include "record/last_round.h"

#include <algorithm>

#include "inference/carry.h"
#include "record/calibrated.h"
#include "record/database.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

using nlohmann::json;

constexpr int most_readings = 10'000;

// Oldest first: the whole round, or nothing.
Result<std::vector<Thing>> round_of(const Store& store, const std::string& enclosure) {
    const auto newest = store.list({.kind = "reading", .equal = {{"enclosure", enclosure}}, .limit = 1});
    if (!newest) return tl::unexpected(newest.error());
    if (newest->things.empty()) return std::vector<Thing>{};
    const json& last = newest->things.front().fields;
    Query query{.kind = "reading", .equal = {{"enclosure", enclosure}}, .limit = most_readings};
    if (const std::string survey = last.value("survey", ""); !survey.empty()) {
        query.equal["survey"] = survey;
    } else {
        query.from = last["taken_at"].get<std::string>().substr(0, 10);
        query.equal["survey"] = "";
    }
    auto page = store.list(query);
    if (!page) return tl::unexpected(page.error());
    std::reverse(page->things.begin(), page->things.end());
    return std::move(page->things);
}

// The document in force at the moment; the oldest there is, where readings are older than the record.
Result<json> document_at(const Store& store, const std::string& enclosure, const std::string& moment) {
    const auto versions = store.history("enclosure", enclosure);
    if (!versions) return tl::unexpected(versions.error());
    if (versions->empty())
        return refuse_as(Trouble::missing, {"", "enclosure", enclosure, "an enclosure of the record"});
    for (const Version& version : *versions) {  // newest first
        if (to_text(version.thing.changed_at) <= moment) return version.thing.fields["document"];
    }
    return versions->back().thing.fields["document"];
}

// As a row of a table of readings (inference/readings.h).
json row_of(const json& reading, const Calibrations& calibrations) {
    const std::string moment = reading["taken_at"];
    const std::string day = moment.substr(0, 10);
    json row = {{"date", moment}, {"quantity", reading["quantity"]}};
    row["value"] = calibrations.true_value(reading.value("meter", ""), day, reading["value"].get<double>());
    for (const char* name : {"spot", "x_cm", "y_cm", "z_cm", "height_cm", "facing"}) {
        if (reading.contains(name)) row[name] = reading[name];
    }
    const std::string meter = reading.value("meter", reading.value("meter_words", ""));
    if (!meter.empty()) row["meter"] = meter;
    return row;
}

Result<std::vector<std::string>> exchanged_since(const Store& store, const std::string& enclosure,
                                                 const std::string& day) {
    const auto events = store.list({.kind = "lamp_event", .equal = {{"enclosure", enclosure}}, .from = day});
    if (!events) return tl::unexpected(events.error());
    std::vector<std::string> places;
    for (const Thing& event : events->things) {
        const std::string what = event.fields["what"];
        const bool came = what == "installed" || what == "moved";
        const std::string place = event.fields.value("place", "");
        if (came && !place.empty() && event.fields["happened_on"].get<std::string>() > day) {
            places.push_back(place);
        }
    }
    return places;
}

}  // namespace

Result<std::optional<LastRound>> last_round(const Store& store, const std::string& enclosure) {
    using Round = std::optional<LastRound>;
    const auto things = round_of(store, enclosure);
    if (!things) return tl::unexpected(things.error());
    if (things->empty()) return Round();
    const std::string newest = things->back().fields["taken_at"];

    const auto rows = store.database().read<json>([&](Connection& connection) -> Result<json> {
        const Calibrations calibrations(connection);
        json list = json::array();
        for (const Thing& thing : *things) {
            if (thing.fields.value("note", "").starts_with(in_the_way)) continue;
            list.push_back(row_of(thing.fields, calibrations));
        }
        return list;
    });
    if (!rows) return tl::unexpected(rows.error());
    const auto document = document_at(store, enclosure, newest);
    if (!document) return tl::unexpected(document.error());

    scene::ReadOptions reading;
    reading.file = enclosure;
    reading.read_file = file_reader(store, things->front().site);
    auto then = scene::parse_enclosure(document->dump(), reading);
    if (!then) return refuse_as(Trouble::invalid, then.error());
    // A spot that is gone from the document takes its readings with it.
    json known = json::array();
    for (const json& row : *rows) {
        const std::string spot = row.value("spot", "");
        const bool there = spot.empty() || std::any_of(then->spots.begin(), then->spots.end(),
                                                       [&](const auto& s) { return s.id == spot; });
        if (there) known.push_back(row);
    }
    if (known.empty()) return Round();
    auto readings = inference::parse_readings(known.dump(), *then, {.file = "the record", .today = {}});
    if (!readings) return refuse_as(Trouble::invalid, readings.error());
    if (readings->sets.empty()) return Round();
    const std::string day = newest.substr(0, 10);
    auto exchanged = exchanged_since(store, enclosure, day);
    if (!exchanged) return tl::unexpected(exchanged.error());
    return Round(LastRound{std::move(*then), std::move(*readings), day, std::move(*exchanged)});
}

inference::Fit fitted(const LastRound& round, const scene::Enclosure& now) {
    inference::Fit fit = inference::fit(round.then, round.readings.sets);
    if (round.exchanged.empty() && round.then.source == now.source) return fit;
    return inference::carry(fit, now, round.exchanged);
}

}  // namespace dapple::record
