#include "record/due.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "record/database.h"
#include "record/rows.h"
#include "record/survey_times.h"

namespace dapple::record {

namespace {

using inference::Day;
using nlohmann::json;

std::string get(const Thing& thing, const char* field) {
    return thing.fields.value(field, std::string());
}
std::string title_of(const Thing& enclosure) {
    return enclosure.fields["document"].value("name", enclosure.id);
}

std::string days(int count) {
    return fmt::format("{} day{}", count, count == 1 ? "" : "s");
}

// Everything due at the sites, gathered kind by kind.
class List {
  public:
    List(Connection& connection, const std::vector<std::string>& sites, Day today, const DueOptions& options)
        : connection_(connection), today_(today), options_(options) {
        for (const std::string& site : sites) {
            marks_ += marks_.empty() ? "?" : ", ?";
            sites_.push_back(text(site));
        }
        if (marks_.empty()) marks_ = "''";
    }

    void add_surveys() {
        std::map<std::string, std::string> last;
        for (const Row& row : connection_.rows(last_readings_sql(marks_), "tt", sites_)) {
            last[text_of(row[0])] = text_of(row[1]).substr(0, 10);
        }
        const auto of_sites = intervals_of_sites();
        each("enclosure", "retired_at is null", [&](const Thing& enclosure) {
            titles_[enclosure.id] = title_of(enclosure);
            const int every =
                survey_interval(enclosure, of_sites.at(enclosure.site), options_.survey_every_days);
            const auto read = inference::day_of(last[enclosure.id]);
            const Day due = read ? *read + std::chrono::days(every)
                                 : std::chrono::floor<std::chrono::days>(enclosure.made_at);
            const std::string why =
                read ? fmt::format("Last read {} ago; every {}.",
                                   days(static_cast<int>((today_ - *read).count())), days(every))
                     : "It was never read.";
            add({DueKind::survey, enclosure.site, enclosure.id, enclosure.id,
                 "Survey " + titles_[enclosure.id], why, due, 0, Settling::survey_enclosure});
        });
    }

    void add_calibrations() {
        std::map<std::string, std::string> last;
        for (const Row& row : connection_.rows(
                 "select meter, max(calibrated_on) from calibrations where retired_at is null group by meter",
                 "tt")) {
            last[text_of(row[0])] = text_of(row[1]);
        }
        each("meter", "retired_at is null", [&](const Thing& meter) {
            const int every = meter.fields.value("calibrate_every_months", options_.calibrate_every_months);
            std::string since = last[meter.id];
            const bool never = since.empty();
            if (never) since = get(meter, "bought_on");
            const auto from = inference::day_of(since);
            const Day due =
                from ? after_months(*from, every) : std::chrono::floor<std::chrono::days>(meter.made_at);
            const std::string why =
                never ? "It was never calibrated."
                      : fmt::format("Last calibrated on {}; every {} months.", since, every);
            add({DueKind::calibration, meter.site, meter.id, "", "Calibrate " + get(meter, "name"), why, due,
                 0, Settling::calibrate_meter});
        });
    }

    void add_tasks() {
        each("task", "retired_at is null and done_on is null", [&](const Thing& task) {
            const auto by = inference::day_of(get(task, "due_on"));
            const Day made = std::chrono::floor<std::chrono::days>(task.made_at);
            const std::string why =
                by ? "Due on " + get(task, "due_on") + "."
                   : fmt::format("Open for {}.", days(static_cast<int>((today_ - made).count())));
            add({DueKind::task, task.site, task.id, get(task, "enclosure"), get(task, "title"), why,
                 by.value_or(made), 0, Settling::settle_task});
        });
    }

    void add_lamps(const std::vector<LampForecast>& forecasts) {
        std::map<std::string, const LampForecast*> of;
        for (const LampForecast& forecast : forecasts) of[forecast.lamp] = &forecast;
        each("lamp", "retired_at is null and enclosure is not null", [&](const Thing& lamp) {
            const auto found = of.find(lamp.id);
            if (found != of.end()) add_lamp(lamp, *found->second);
        });
    }

    std::vector<Due> sorted() && {
        const auto urgency = [](const Due& d) {
            return std::tuple(-d.days_over, d.kind != DueKind::lamp, d.kind, d.title, d.thing);
        };
        std::sort(due_.begin(), due_.end(),
                  [&](const Due& a, const Due& b) { return urgency(a) < urgency(b); });
        return std::move(due_);
    }

  private:
    template <class Visit>
    void each(const char* kind_name, const char* where, const Visit& visit) {
        const Kind& kind = *kind_named(kind_name);
        connection_.each(fmt::format("select {} from {} where site in ({}) and {}", columns_of(kind),
                                     kind.plural, marks_, where),
                         types_of(kind), sites_, [&](const Row& row) { visit(thing_of(kind, row)); });
    }

    std::map<std::string, std::int64_t> intervals_of_sites() {
        std::map<std::string, std::int64_t> result;
        for (const Row& row : connection_.rows("select id, survey_every_days from sites", "ti")) {
            result[text_of(row[0])] = whole_of(row[1]);
        }
        return result;
    }

    static Day after_months(Day from, int months) {
        const std::chrono::year_month_day date(from);
        const auto later = date + std::chrono::months(months);
        return later.ok() ? Day(later) : Day(later.year() / later.month() / std::chrono::last);  // 31 -> 30
    }

    void add_lamp(const Thing& lamp, const LampForecast& forecast) {
        const inference::Leaving* leaving = forecast.life ? forecast.life->leaving() : nullptr;
        if (leaving == nullptr || !leaving->date) return;
        // A new lamp of its kind would be too weak as well: the enclosure wants a fix, not a replacement.
        if (leaving->from_start) return;
        const Day early = leaving->early.value_or(*leaving->date);
        if (early - std::chrono::days(options_.ahead_days) > today_) return;
        const std::string where = titles_[get(lamp, "enclosure")];
        const std::string interval =
            leaving->early && leaving->late
                ? fmt::format(" (90 %: {} to {})", inference::to_text(*leaving->early),
                              inference::to_text(*leaving->late))
                : "";
        const std::string why = fmt::format(
            "By its readings it leaves the band of {} on {}{}{}.", where, inference::to_text(*leaving->date),
            interval, leaving->beyond_limit ? ", further ahead than they can tell" : "");
        Due due{
            DueKind::lamp, lamp.site,      lamp.id, get(lamp, "enclosure"), "Replace " + get(lamp, "name"),
            why,           *leaving->date, 0,       Settling::replace_lamp};
        due.days_over = static_cast<int>((today_ - due.due).count());
        due_.push_back(std::move(due));
    }

    void add(Due due) {
        due.days_over = static_cast<int>((today_ - due.due).count());
        if (due.days_over >= -options_.ahead_days) due_.push_back(std::move(due));
    }

    Connection& connection_;
    Day today_;
    DueOptions options_;
    std::string marks_;
    Row sites_;
    std::map<std::string, std::string> titles_;  // of enclosures
    std::vector<Due> due_;
};

}  // namespace

std::string_view name(DueKind kind) {
    switch (kind) {
        case DueKind::survey:
            return "survey";
        case DueKind::lamp:
            return "lamp";
        case DueKind::calibration:
            return "calibration";
        case DueKind::task:
            return "task";
    }
    return "task";
}

std::string_view name(Settling settling) {
    switch (settling) {
        case Settling::survey_enclosure:
            return "survey_enclosure";
        case Settling::replace_lamp:
            return "replace_lamp";
        case Settling::calibrate_meter:
            return "calibrate_meter";
        case Settling::settle_task:
            return "settle_task";
    }
    return "settle_task";
}

json to_json(const Due& due) {
    return {{"kind", name(due.kind)},
            {"site", due.site},
            {"thing", due.thing},
            {"enclosure", due.enclosure.empty() ? json(nullptr) : json(due.enclosure)},
            {"title", due.title},
            {"why", due.why},
            {"due", inference::to_text(due.due)},
            {"days_over", due.days_over},
            {"settling", name(due.settling)}};
}

Result<std::vector<Due>> due_list(const Store& store, LampLives& lives, const std::vector<std::string>& sites,
                                  Day today, const DueOptions& options) {
    const auto forecasts = lives.of_sites(store, sites, today);
    if (!forecasts) return tl::unexpected(forecasts.error());
    return store.database().read<std::vector<Due>>(
        [&](Connection& connection) -> Result<std::vector<Due>> {
            List list(connection, sites, today, options);
            list.add_surveys();
            list.add_calibrations();
            list.add_tasks();
            list.add_lamps(*forecasts);
            return std::move(list).sorted();
        },
        true);
}

}  // namespace dapple::record
