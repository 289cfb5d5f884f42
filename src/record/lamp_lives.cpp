#include "record/lamp_lives.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <deque>
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

// A lamp and what its life is computed from.
struct Work {
    Thing lamp;
    std::vector<LifeReading> readings;
};

// Where the lamps of one enclosure find their light: opened with the first that needs it, relit for the others.
class Room {
  public:
    Room(const Thing& enclosure, const std::optional<OpenRoom>& open) {
        if (open && open->revision == enclosure.revision) open_ = open->field;
    }
    const light::Field& as(const scene::Enclosure& document) {
        if (open_ == nullptr) {
            own_.emplace_back(document);
            open_ = &own_.back();
        } else {
            own_.push_back(open_->relit(document));
        }
        return own_.back();
    }

  private:
    const light::Field* open_ = nullptr;
    std::deque<light::Field> own_;
};

LampForecast forecast(const Store& store, const Work& work, const Thing& enclosure, Room& room, Day today) {
    const auto& [lamp, readings] = work;
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
    const auto life = document ? inference::lamp_life(readings, room.as(*document), options)
                               : inference::lamp_life(readings, nullptr, options);
    if (!life) {
        for (const Problem& problem : life.error()) result.notes.push_back(problem.message());
    } else if (!life->lamps.empty()) {
        result.life = life->lamps.front();
        result.notes.insert(result.notes.end(), life->notes.begin(), life->notes.end());
    }
    return result;
}

// By enclosure; `column` and `values` say of which sites or enclosures.
std::map<std::string, std::vector<Thing>> lamps_standing(Connection& connection, const std::string& column,
                                                         const std::vector<std::string>& values) {
    const Kind& kind = *kind_named("lamp");
    std::map<std::string, std::vector<Thing>> lamps;
    for (const std::string& value : values) {
        connection.each("select " + columns_of(kind) + " from lamps where " + column +
                            " = ? and enclosure is not null and retired_at is null order by id",
                        types_of(kind), {text(value)}, [&](const Row& row) {
                            Thing lamp = thing_of(kind, row);
                            lamps[get(lamp, "enclosure")].push_back(std::move(lamp));
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

    const LampForecast* of(const std::string& lamp, Day today) const {
        const auto found = known.find(lamp);
        return found != known.end() && found->second.today == today ? &found->second.forecast : nullptr;
    }

    void keep(const std::string& enclosure, const LampForecast& forecast, Day today) {
        known[forecast.lamp] = {today, forecast};
        in[enclosure].insert(forecast.lamp);
    }

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

// Which lamps: those of some sites or of one enclosure.
struct LampLives::Asked {
    std::string column;
    std::vector<std::string> values;
    Day today;
    std::optional<OpenRoom> room = {};
};

Result<std::vector<LampForecast>> LampLives::of_sites(const Store& store,
                                                      const std::vector<std::string>& sites, Day today) {
    return of(store, {"site", sites, today});
}

Result<std::vector<LampForecast>> LampLives::of_enclosure(const Store& store, const std::string& enclosure,
                                                          Day today, std::optional<OpenRoom> room) {
    return of(store, {"enclosure", {enclosure}, today, room});
}

Result<std::vector<LampForecast>> LampLives::of(const Store& store, const Asked& asked) {
    struct Works {
        Thing enclosure;
        std::vector<Work> lamps;
        std::vector<LampForecast> forecasts = {};
    };
    std::map<std::string, LampForecast> result;  // by lamp
    std::vector<Works> works;
    std::int64_t seen = 0;
    const auto gather = [&](Connection& connection) -> Result<bool> {
        result.clear();
        works.clear();
        state_->follow(connection);
        seen = state_->seen;
        const Calibrations calibrations(connection);
        for (const auto& [where, lamps] : lamps_standing(connection, asked.column, asked.values)) {
            const auto enclosure = find_thing(connection, *kind_named("enclosure"), where);
            if (!enclosure) continue;
            const auto with_uv = std::count_if(lamps.begin(), lamps.end(), sends_uv);
            Works there{*enclosure, {}};
            for (const Thing& lamp : lamps) {
                if (const auto* known = state_->of(lamp.id, asked.today)) {
                    result[lamp.id] = *known;
                    continue;
                }
                there.lamps.push_back(
                    {lamp, readings_of(connection, {lamp, sends_uv(lamp) && with_uv == 1}, calibrations)});
            }
            works.push_back(std::move(there));
        }
        return true;
    };
    {
        const std::lock_guard lock(state_->mutex);
        if (const auto gathered = store.database().read<bool>(gather, true); !gathered)
            return tl::unexpected(gathered.error());
    }
    tbb::parallel_for(std::size_t{0}, works.size(), [&](std::size_t i) {
        Room room(works[i].enclosure, asked.room);
        for (const Work& work : works[i].lamps) {
            works[i].forecasts.push_back(forecast(store, work, works[i].enclosure, room, asked.today));
        }
    });
    const std::lock_guard lock(state_->mutex);
    for (Works& there : works) {
        for (LampForecast& one : there.forecasts) {
            // What others looked at meanwhile may have made this one old.
            if (state_->seen == seen) state_->keep(there.enclosure.id, one, asked.today);
            result[one.lamp] = std::move(one);
        }
    }
    std::vector<LampForecast> all;
    for (auto& [lamp, one] : result) all.push_back(std::move(one));
    return all;
}

Result<LampForecast> LampLives::of_lamp(const Store& store, const std::string& id, Day today) {
    const auto lamp = store.find("lamp", id);
    if (!lamp) return tl::unexpected(lamp.error());
    const auto all = of_enclosure(store, get(*lamp, "enclosure"), today);
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
