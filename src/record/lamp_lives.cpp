#include "record/lamp_lives.h"

#include <algorithm>
#include <map>
#include <mutex>
#include <set>

#include "record/calibrated.h"
#include "record/database.h"
#include "record/deeds.h"
#include "record/rows.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

using inference::Day;
using inference::LifeReading;
using nlohmann::json;

constexpr std::int64_t most_changes_followed = 5000;  // beyond these everything is computed anew

std::string get(const Thing& thing, const char* name) {
    return thing.fields.value(name, std::string());
}

// A lamp that stands in an enclosure, with what its life is computed from.
struct Standing {
    Thing lamp;
    bool alone;  // the only one of the record there that sends ultraviolet
};

// Beside a lamp for warmth or sight alone, a UV lamp is still the only one that a UV reading can tell of.
bool sends_uv(const Thing& lamp) {
    const std::string kind = get(lamp, "lamp_kind");
    return kind != "halogen" && kind != "incandescent" && kind != "heat_lamp" && kind != "emitter";
}

std::vector<LifeReading> readings_of(Connection& connection, const Standing& standing,
                                     const Calibrations& calibrations) {
    const Thing& lamp = standing.lamp;
    const std::string since = get(lamp, "installed_on");
    std::vector<LifeReading> readings;
    // Where other lamps stand beside it, only what names it is its own.
    const std::string whose = standing.alone ? "enclosure = ? and (lamp = ? or lamp is null)" : "lamp = ?";
    Row parameters = {text(lamp.id), text(since)};
    if (standing.alone) parameters.insert(parameters.begin(), text(get(lamp, "enclosure")));
    connection.each("select id, spot, value, taken_at, meter from readings where " + whose +
                        " and taken_at >= ? and retired_at is null and quantity = 'uvi' and spot is not null "
                        "and facing is null "
                        "order by taken_at",
                    "ttrtt", parameters, [&](const Row& row) {
                        LifeReading reading;
                        reading.place = "reading " + text_of(row[0]);
                        reading.lamp = get(lamp, "place").empty() ? lamp.id : get(lamp, "place");
                        reading.spot = text_of(row[1]);
                        reading.day = inference::day_of(text_of(row[3]).substr(0, 10));
                        reading.value = std::max(
                            0.0, calibrations.true_value(text_of(row[4]), text_of(row[3]).substr(0, 10),
                                                         real_of(row[2])));
                        if (const auto from = inference::day_of(since); from && reading.day) {
                            const double hours_on = lamp.fields.value("hours_on", 12.0);
                            reading.hours = lamp.fields.value("hours_before", 0.0) +
                                            hours_on * inference::days_between(*from, *reading.day);
                        }
                        readings.push_back(std::move(reading));
                    });
    return readings;
}

// The document with the lamp as the record knows it: its date, its hours a day.
std::optional<scene::Enclosure> enclosure_of(const Store& store, const Thing& enclosure, const Thing& lamp) {
    const std::string place = get(lamp, "place");
    json document = enclosure.fields["document"];
    bool stands_there = false;
    if (document.contains("lamps")) {
        for (json& one : document["lamps"]) {
            if (one.value("id", "") != place) continue;
            stands_there = true;
            if (!get(lamp, "installed_on").empty()) one["installed"] = get(lamp, "installed_on");
            if (lamp.fields.contains("hours_on")) one["hours_on"] = lamp.fields["hours_on"];
        }
    }
    if (!stands_there) return std::nullopt;
    scene::ReadOptions options;
    options.file = "enclosure " + enclosure.id;
    options.read_file = file_reader(store, enclosure.site);
    auto parsed = scene::parse_enclosure(document.dump(), options);
    if (!parsed) return std::nullopt;
    return std::move(*parsed);
}

LampForecast forecast(const Store& store, const Thing& lamp, const Thing& enclosure,
                      std::vector<LifeReading> readings, Day today) {
    LampForecast result{lamp.id, std::nullopt, {}};
    for (const LifeReading& reading : readings) {
        if (!reading.day || !reading.hours) continue;
        result.readings.push_back(
            {inference::to_text(*reading.day), *reading.hours, reading.value, reading.spot});
    }
    // One survey says how strong it is, not how it fades.
    std::set<Day> days;
    for (const LifeReading& reading : readings) {
        if (reading.day) days.insert(*reading.day);
    }
    if (days.size() < 2) {
        result.notes.emplace_back("Fewer than two days of readings: nothing can be said about how it fades.");
        return result;
    }
    const auto document = enclosure_of(store, enclosure, lamp);
    if (!document)
        result.notes.emplace_back("It is no lamp of the enclosure's document, so no band is known.");
    inference::LifeOptions options;
    options.file = "readings of lamp " + get(lamp, "name");
    options.today = today;
    options.hours_on = lamp.fields.value("hours_on", 12.0);
    if (lamp.fields.contains("price")) options.price = lamp.fields["price"].get<double>();
    options.kind = inference::lamp_kind_named(get(lamp, "lamp_kind"));
    const auto life = inference::lamp_life(readings, document ? &*document : nullptr, options);
    if (!life) {
        for (const Problem& problem : life.error()) result.notes.push_back(problem.message());
    } else if (!life->lamps.empty()) {
        result.life = life->lamps.front();
        result.notes.insert(result.notes.end(), life->notes.begin(), life->notes.end());
    }
    return result;
}

std::map<std::string, Thing> lamps_standing(Connection& connection, const std::vector<std::string>& sites) {
    const Kind& kind = *kind_named("lamp");
    std::map<std::string, Thing> lamps;
    for (const std::string& site : sites) {
        connection.each("select " + columns_of(kind) +
                            " from lamps where site = ? and enclosure is not null and "
                            "retired_at is null",
                        types_of(kind), {text(site)}, [&](const Row& row) {
                            Thing lamp = thing_of(kind, row);
                            lamps.emplace(lamp.id, std::move(lamp));
                        });
    }
    return lamps;
}

}  // namespace

struct LampLives::State {
    struct Known {
        Day today;
        LampForecast forecast;
    };
    std::mutex mutex;
    std::int64_t seen = -1;
    std::map<std::string, Known> known;               // by lamp
    std::map<std::string, std::set<std::string>> in;  // enclosure -> lamps known there

    void forget_enclosure(const std::string& enclosure) {
        for (const std::string& lamp : in[enclosure]) known.erase(lamp);
        in.erase(enclosure);
    }

    // What changed since the last look makes what it touches unknown.
    void follow(Connection& connection) {
        const auto newest = whole_of(connection.rows("select coalesce(max(seq), 0) from changes", "i")[0][0]);
        if (seen < 0 || newest - seen > most_changes_followed) {
            known.clear();
            in.clear();
        } else if (newest > seen) {
            for (const Row& row : connection.rows("select distinct c.kind, c.id, r.enclosure from changes c "
                                                  "left join readings r on c.kind = 'reading' "
                                                  "and r.id = c.id where c.seq > ? and c.kind in ('reading', "
                                                  "'lamp', 'enclosure', 'calibration')",
                                                  "ttt", {whole(seen)})) {
                if (text_of(row[0]) == "calibration") {
                    known.clear();
                    in.clear();
                } else if (text_of(row[0]) == "lamp") {
                    forget_lamp(connection, text_of(row[1]));
                } else {
                    forget_enclosure(text_of(row[0]) == "enclosure" ? text_of(row[1]) : text_of(row[2]));
                }
            }
        }
        seen = newest;
    }

    // Whether another lamp is alone in an enclosure depends on this one, where it was and where it is.
    void forget_lamp(Connection& connection, const std::string& lamp) {
        std::vector<std::string> touched;
        for (const auto& [enclosure, lamps] : in) {
            if (lamps.contains(lamp)) touched.push_back(enclosure);
        }
        for (const Row& row :
             connection.rows("select enclosure from lamps where id = ?", "t", {text(lamp)})) {
            touched.push_back(text_of(row[0]));
        }
        for (const std::string& enclosure : touched) forget_enclosure(enclosure);
        known.erase(lamp);
    }
};

LampLives::LampLives() : state_(std::make_unique<State>()) {}
LampLives::~LampLives() = default;

Result<std::vector<LampForecast>> LampLives::of_sites(const Store& store,
                                                      const std::vector<std::string>& sites, Day today) {
    struct Work {
        Thing lamp;
        Thing enclosure;
        std::vector<LifeReading> readings;
    };
    const std::lock_guard lock(state_->mutex);
    std::map<std::string, Thing> lamps;
    const auto gathered = store.database().read<std::vector<Work>>(
        [&](Connection& connection) -> Result<std::vector<Work>> {
            state_->follow(connection);
            lamps = lamps_standing(connection, sites);
            std::map<std::string, int> count;
            for (const auto& [id, lamp] : lamps) {
                if (sends_uv(lamp)) ++count[get(lamp, "enclosure")];
            }
            const Calibrations calibrations(connection);
            std::vector<Work> work;
            for (const auto& [id, lamp] : lamps) {
                const auto known = state_->known.find(id);
                if (known != state_->known.end() && known->second.today == today) continue;
                const std::string where = get(lamp, "enclosure");
                const auto enclosure = find_thing(connection, *kind_named("enclosure"), where);
                if (enclosure)
                    work.push_back(
                        {lamp, *enclosure,
                         readings_of(connection, {lamp, sends_uv(lamp) && count[where] == 1}, calibrations)});
            }
            return work;
        },
        true);
    if (!gathered) return tl::unexpected(gathered.error());
    for (const Work& work : *gathered) {
        state_->known[work.lamp.id] = {today,
                                       forecast(store, work.lamp, work.enclosure, work.readings, today)};
        state_->in[work.enclosure.id].insert(work.lamp.id);
    }
    std::vector<LampForecast> result;
    for (const auto& [id, lamp] : lamps) {
        const auto known = state_->known.find(id);
        if (known != state_->known.end()) result.push_back(known->second.forecast);
    }
    return result;
}

Result<LampForecast> LampLives::of_lamp(const Store& store, const std::string& id, Day today) {
    const auto lamp = store.find("lamp", id);
    if (!lamp) return tl::unexpected(lamp.error());
    const auto all = of_sites(store, {lamp->site}, today);
    if (!all) return tl::unexpected(all.error());
    for (const LampForecast& one : *all) {
        if (one.lamp == id) return one;
    }
    return LampForecast{id, std::nullopt, {"It stands in no enclosure."}};
}

json to_json(const LampForecast& forecast) {
    json life = nullptr;
    if (forecast.life) life = inference::to_json(inference::Life{{*forecast.life}, {}})["lamps"][0];
    json readings = json::array();
    for (const LampReading& r : forecast.readings) {
        readings.push_back(
            {{"taken_at", r.taken_on}, {"hours", r.hours}, {"value", r.value}, {"spot", r.spot}});
    }
    return {{"lamp", forecast.lamp},
            {"life", std::move(life)},
            {"notes", forecast.notes},
            {"readings", std::move(readings)}};
}

}  // namespace dapple::record
