// An account of the record: its enclosures with everything the record knows of them.
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "paper/kept_readings.h"
#include "paper/meter_rows.h"
#include "paper/report.h"
#include "paper/things.h"
#include "record/deeds.h"

namespace dapple::paper {

namespace {

using inference::Day;
using record::Result;
using record::Thing;
using std::chrono::days;

constexpr int looked_back_days = 3 * 365;  // how far "since when" is followed
constexpr int fitted_days = 30;            // readings this much older than the newest still make one fit
constexpr std::size_t most_fitted = 60;    // sets; beyond these the newest

std::string day_text(Day day) {
    return inference::to_text(day);
}

class Gathering {
  public:
    Gathering(const record::Store& store, record::LampLives& lives, const ReportOptions& options)
        : store_(store),
          lives_(lives),
          options_(options),
          today_(std::chrono::floor<days>(options.now)),
          since_(options.since.empty() ? day_text(today_ - days(365)) : options.since) {}

    Result<Account> gather() {
        auto sites = sites_or_all(store_, options_.sites);
        if (!sites) return tl::unexpected(sites.error());
        sites_ = std::move(*sites);
        auto meters = Meters::of(store_, sites_);
        if (!meters) return tl::unexpected(meters.error());
        meters_ = std::move(*meters);
        for (const auto& load : {&Gathering::load_names, &Gathering::load_lamps, &Gathering::load_tasks}) {
            if (const auto loaded = (this->*load)(); !loaded) return tl::unexpected(loaded.error());
        }
        Account account;
        account.title = title_;
        account.made = options_.now;
        account.since = since_;
        const auto enclosures = wanted_enclosures();
        if (!enclosures) return tl::unexpected(enclosures.error());
        std::vector<Work> works;
        for (const Thing& thing : *enclosures) {
            auto one = of_enclosure(thing);
            if (!one) return tl::unexpected(one.error());
            works.push_back(std::move(*one));
        }
        // Each enclosure is a judgement of its own, and most of one runs on a single core.
        tbb::parallel_for(std::size_t{0}, works.size(), [&](std::size_t i) { judge(works[i]); });
        for (Work& work : works) {
            if (work.refusal) return tl::unexpected(*work.refusal);
            account.enclosures.push_back(std::move(work.account));
        }
        auto needed = lamps_needed(store_, lives_, sites_, today_);
        if (!needed) return tl::unexpected(needed.error());
        const auto& only = options_.enclosures;
        for (LampNeeded& need : *needed) {
            if (only.empty() || std::find(only.begin(), only.end(), need.enclosure) != only.end())
                account.lamps_needed.push_back(std::move(need));
        }
        return account;
    }

  private:
    // What is left to compute once the record has been read.
    struct Work {
        EnclosureAccount account;
        std::vector<inference::Reading> fitted;  // to these
        std::vector<inference::Reading> all;     // by which its standing is followed

        std::int64_t revision = 0;  // of the document
        std::optional<record::Refusal> refusal = {};
    };

    void judge(Work& work) {
        EnclosureAccount& account = work.account;
        std::optional<record::OpenRoom> room;
        std::shared_ptr<const light::Field> field;
        if (account.enclosure) {
            field = judge_into(account, work.fitted);
            account.standings = standings_of(work.all, account);
        }
        if (field) room = {field.get(), work.revision};
        const auto forecasts = lives_.of_enclosure(store_, account.id, today_, room);
        if (!forecasts) {
            work.refusal = forecasts.error();
            return;
        }
        const auto lamps = lamps_.find(account.id);
        for (std::size_t i = 0; i < account.lamps.size(); ++i) {
            for (const record::LampForecast& forecast : *forecasts) {
                if (forecast.lamp == lamps->second[i].id) add_forecast(account.lamps[i], forecast);
            }
        }
    }

    Result<void> load_names() {
        for (const std::string& id : sites_) {
            const auto site = store_.find("site", id);
            if (!site) return tl::unexpected(site.error());
            title_ += (title_.empty() ? "" : ", ") + field(*site, "name");
        }
        const auto rooms = things_at(store_, "room", sites_);
        if (!rooms) return tl::unexpected(rooms.error());
        for (const Thing& room : *rooms) rooms_[room.id] = field(room, "name");
        record::Query people;
        people.kind = "person";
        people.retired = true;
        const auto all = all_things(store_, people);
        if (!all) return tl::unexpected(all.error());
        for (const Thing& person : *all) people_[person.id] = field(person, "name");
        return {};
    }

    Result<void> load_lamps() {
        const auto lamps = things_at(store_, "lamp", sites_);
        if (!lamps) return tl::unexpected(lamps.error());
        for (const Thing& lamp : *lamps) lamps_[field(lamp, "enclosure")].push_back(lamp);
        return {};
    }

    Result<void> load_tasks() {
        const auto tasks = things_at(store_, "task", sites_);
        if (!tasks) return tl::unexpected(tasks.error());
        for (const Thing& task : *tasks) {
            const std::string day = field(task, "done_on");
            if (day.empty() || day < since_) continue;
            done_[field(task, "enclosure")].push_back(
                {day, field(task, "title"), field(task, "outcome"), task.fields.contains("fix")});
        }
        for (auto& [enclosure, list] : done_) {
            std::sort(list.begin(), list.end(),
                      [](const DoneRow& a, const DoneRow& b) { return a.day > b.day; });
        }
        return {};
    }

    // In the order of rooms, then names.
    Result<std::vector<Thing>> wanted_enclosures() {
        auto wanted = chosen_enclosures(store_, sites_, options_.enclosures);
        if (!wanted) return wanted;
        const auto order = [&](const Thing& one) {
            return std::tuple(rooms_[field(one, "room")], name_of_enclosure(one), one.id);
        };
        std::sort(wanted->begin(), wanted->end(),
                  [&](const Thing& a, const Thing& b) { return order(a) < order(b); });
        return wanted;
    }

    Result<Work> of_enclosure(const Thing& thing) {
        Work work;
        EnclosureAccount& one = work.account;
        one.id = thing.id;
        one.name = name_of_enclosure(thing);
        work.revision = thing.revision;
        one.room = rooms_[field(thing, "room")];
        one.done = done_[thing.id];
        for (const Thing& lamp : lamps_[thing.id]) {
            auto row = lamp_row(lamp);
            if (!row) return tl::unexpected(row.error());
            one.lamps.push_back(std::move(*row));
        }
        record::Query query;
        query.kind = "reading";
        query.sites = sites_;
        query.equal = {{"enclosure", thing.id}};
        query.from = std::min(since_, day_text(today_ - days(looked_back_days)));
        const auto readings = all_things(store_, query);
        if (!readings) return tl::unexpected(readings.error());
        one.meters = meter_rows(*readings, since_, meters_, people_);

        scene::ReadOptions reading;
        reading.file = "enclosure " + thing.id;
        reading.read_file = files_of(thing.site);
        auto enclosure = scene::parse_enclosure(thing.fields["document"].dump(), reading);
        if (!enclosure) {
            one.problems = enclosure.error();
            return work;
        }
        one.enclosure = std::move(*enclosure);
        account_for(work, kept_sets(*readings, *one.enclosure, meters_));
        return work;
    }

    void account_for(Work& work, const std::vector<KeptSet>& kept) {
        for (const KeptSet& set : kept) {
            if (set.reading.date <= day_text(today_) && !set.of_one_lamp) work.all.push_back(set.reading);
            if (set.reading.date < since_) continue;
            ReadingRow row = row_of(set.reading, work.account);
            if (set.nowhere) row.remark = "its spot is none of the enclosure's now";
            if (set.of_one_lamp) row.remark = "of one lamp alone";
            work.account.readings.push_back(std::move(row));
        }
        std::reverse(work.account.readings.begin(), work.account.readings.end());
        work.fitted = fitted(kept, work.account.id);
    }

    // The newest readings, of lamps as they stand now.
    std::vector<inference::Reading> fitted(const std::vector<KeptSet>& kept, const std::string& id) {
        std::string from;
        for (const Thing& lamp : lamps_[id]) from = std::max(from, field(lamp, "installed_on"));
        std::string newest;
        for (const KeptSet& set : kept) {
            if (set.reading.date <= day_text(today_)) newest = std::max(newest, set.reading.date);
        }
        if (const auto day = inference::day_of(newest))
            from = std::max(from, day_text(*day - days(fitted_days)));
        std::vector<inference::Reading> sets;
        for (const KeptSet& set : kept) {
            if (set.nowhere || set.of_one_lamp || set.reading.date < from ||
                set.reading.date > day_text(today_))
                continue;
            sets.push_back(set.reading);
        }
        if (sets.size() > most_fitted) sets.erase(sets.begin(), sets.end() - most_fitted);
        return sets;
    }

    Result<LampRow> lamp_row(const Thing& lamp) {
        LampRow row;
        row.name = field(lamp, "name");
        row.what = what_lamp_is(lamp);
        row.installed = field(lamp, "installed_on");
        if (lamp.fields.contains("hours_on")) row.hours_on = lamp.fields["hours_on"].get<double>();
        const auto hours = record::lamp_hours(store_, lamp.id, day_text(today_));
        if (!hours) return tl::unexpected(hours.error());
        row.hours = *hours;
        return row;
    }

    static void add_forecast(LampRow& row, const record::LampForecast& forecast) {
        if (const auto& life = forecast.life) {
            const auto share = [](double alpha) { return 1 - std::exp(-alpha); };
            row.loses = share(life->alpha);
            row.loses_interval = {share(life->alpha_interval.first), share(life->alpha_interval.second)};
            if (life->leaving() != nullptr) row.leaves = *life->leaving();
        } else if (!forecast.notes.empty()) {
            row.remark = forecast.notes.front();
        }
    }

    // What a document names beside itself: of the record, else where the store looks.
    scene::FileReader files_of(const std::string& site) const {
        return [this, site](const std::string& name) -> std::optional<std::string> {
            record::Query query;
            query.kind = "file";
            query.sites = std::vector<std::string>{site};
            query.equal = {{"name", name}};
            const auto found = store_.list(query);
            if (found && !found->things.empty()) return field(found->things.front(), "text");
            const auto& other = store_.options().read_file;
            return other ? other(name) : std::nullopt;
        };
    }

    const record::Store& store_;
    record::LampLives& lives_;
    const ReportOptions& options_;
    Day today_;
    std::string since_;
    std::vector<std::string> sites_;
    std::string title_;
    Meters meters_;
    std::map<std::string, std::string> rooms_;
    std::map<std::string, std::string> people_;
    std::map<std::string, std::vector<Thing>> lamps_;  // by enclosure
    std::map<std::string, std::vector<DoneRow>> done_;
};

}  // namespace

Result<Account> account_of_record(const record::Store& store, record::LampLives& lives,
                                  const ReportOptions& options) {
    return Gathering(store, lives, options).gather();
}

Result<std::string> report_pdf(const record::Store& store, record::LampLives& lives,
                               const ReportOptions& options) {
    const auto account = account_of_record(store, lives, options);
    if (!account) return tl::unexpected(account.error());
    return to_pdf(*account, options.paper);
}

}  // namespace dapple::paper
