#include "inference/life_series.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "inference/readings_repeats.h"

namespace dapple::inference {

namespace {

using Sorted = std::vector<LifeReading>;

bool all_have_hours(const Sorted& readings) {
    return std::all_of(readings.begin(), readings.end(),
                       [](const LifeReading& r) { return r.hours.has_value(); });
}

bool all_have_days(const Sorted& readings) {
    return std::all_of(readings.begin(), readings.end(),
                       [](const LifeReading& r) { return r.day.has_value(); });
}

// By hours where every reading has them, else by day; as given where neither is so (a contradiction).
Sorted by_time(Sorted readings) {
    if (all_have_hours(readings)) {
        std::stable_sort(readings.begin(), readings.end(),
                         [](const LifeReading& a, const LifeReading& b) { return a.hours < b.hours; });
    } else if (all_have_days(readings)) {
        std::stable_sort(readings.begin(), readings.end(),
                         [](const LifeReading& a, const LifeReading& b) { return a.day < b.day; });
    }
    return readings;
}

// Those that have a date, in the same order.
std::vector<const LifeReading*> dated(const Sorted& readings) {
    std::vector<const LifeReading*> found;
    for (const LifeReading& reading : readings) {
        if (reading.day) found.push_back(&reading);
    }
    return found;
}

std::string when(const LifeReading& reading) {
    return reading.day ? to_text(*reading.day) : fmt::format("{:g} h", *reading.hours);
}

// Everything about the readings that cannot be true together.
Problems contradictions(const Sorted& readings, const LampHistory& history, const std::string& file) {
    Problems problems;
    const LifeReading& first = readings.front();
    for (const LifeReading& reading : readings) {
        if (reading.quantity != first.quantity) {
            problems.push_back({file, reading.place,
                                fmt::format("{} where {} reads {}", spectrum::name(reading.quantity),
                                            first.place, spectrum::name(first.quantity)),
                                "one quantity for the lamp " + reading.lamp});
        }
        if (reading.hours.has_value() != first.hours.has_value()) {
            problems.push_back(
                {file, reading.place,
                 reading.hours ? "hours, and none at " + first.place : "no hours, and some at " + first.place,
                 "hours on every line of the lamp " + reading.lamp + ", or on none"});
        }
        if (history.installed && reading.day && *reading.day < *history.installed) {
            problems.push_back({file, reading.place, to_text(*reading.day),
                                fmt::format("dates since the lamp {} was installed, {}", reading.lamp,
                                            to_text(*history.installed))});
        }
    }
    if (!problems.empty()) return problems;
    if (!first.hours) return problems;
    const auto dates = dated(readings);
    for (std::size_t i = 1; i < dates.size(); ++i) {
        const LifeReading& a = *dates[i - 1];
        const LifeReading& b = *dates[i];
        const double days = days_between(*a.day, *b.day);
        const double passed = *b.hours - *a.hours;
        if (passed <= 24 * (days + 1) && !(days < 0 && passed > 0)) continue;
        problems.push_back(
            {file, b.place,
             fmt::format("{:g} h on {}, after {:g} h on {} ({})", *b.hours, to_text(*b.day), *a.hours,
                         to_text(*a.day), a.place),
             "hours that grow with the date, by 24 a day at most; a new lamp needs a name of its own"});
    }
    return problems;
}

// Readings of one spot and time as one.
std::vector<Survey> merged(const Sorted& readings, const std::vector<double>& hours, LifeSeries& series) {
    using Key = std::tuple<std::string, std::string>;
    std::map<Key, std::vector<std::size_t>> sets;
    for (std::size_t i = 0; i < readings.size(); ++i)
        sets[{readings[i].spot, when(readings[i])}].push_back(i);
    std::vector<Survey> surveys;
    for (const auto& [key, members] : sets) {
        std::vector<double> values;
        std::vector<std::string> places;
        double mean_hours = 0;
        for (const std::size_t i : members) {
            values.push_back(readings[i].value);
            places.push_back(readings[i].place);
            mean_hours += hours[i] / static_cast<double>(members.size());
        }
        const double value = summarise(values).value;
        const std::string where = fmt::format("{}", fmt::join(places, ", "));
        if (members.size() > 1) {
            series.notes.push_back(
                fmt::format("{}: {} readings of one place and time count as one, their median {:.3g}.", where,
                            members.size(), value));
        }
        surveys.push_back({where, std::get<0>(key), mean_hours, value});
    }
    std::stable_sort(surveys.begin(), surveys.end(),
                     [](const Survey& a, const Survey& b) { return a.hours < b.hours; });
    return surveys;
}

void leave_out_burn_in(LifeSeries& series, LampKind kind) {
    const double burn_in = decay_prior(kind).burn_in_hours;
    const auto settled = std::find_if(series.surveys.begin(), series.surveys.end(),
                                      [&](const Survey& s) { return s.hours >= burn_in; });
    if (settled == series.surveys.begin()) return;
    if (settled == series.surveys.end()) {
        series.surveys.erase(series.surveys.begin(), series.surveys.end() - 1);
        series.notes.push_back(fmt::format(
            "Every reading is from the first {:g} hours, in which a new lamp loses output faster: only the "
            "last one is used ({}).",
            burn_in, series.surveys.front().places));
        return;
    }
    std::vector<std::string> places;
    for (auto survey = series.surveys.begin(); survey != settled; ++survey) places.push_back(survey->places);
    series.notes.push_back(
        fmt::format("Left out, being from the first {:g} hours, in which a new lamp loses output faster: {}.",
                    burn_in, fmt::join(places, "; ")));
    series.surveys.erase(series.surveys.begin(), settled);
}

}  // namespace

std::optional<Day> LifeSeries::day_at(double hours) const {
    constexpr double century = 36525;
    if (std::abs(hours - hours_that_day) > century * hours_a_day) return std::nullopt;
    return day + std::chrono::days(std::lround((hours - hours_that_day) / hours_a_day));
}

Expected<LifeSeries> series_of(const std::vector<LifeReading>& unsorted, const LampHistory& history,
                               Day today, const std::string& file) {
    const Sorted readings = by_time(unsorted);
    const Problems problems = contradictions(readings, history, file);
    if (!problems.empty()) return tl::unexpected(problems);

    LifeSeries series = {};
    series.quantity = readings.front().quantity;
    series.hours_a_day = history.hours_on;
    series.from_new = readings.front().hours.has_value() || history.installed.has_value();
    std::vector<double> hours;
    const Day start = history.installed.value_or(readings.front().day.value_or(today));
    for (const LifeReading& reading : readings) {
        hours.push_back(reading.hours ? *reading.hours
                                      : days_between(start, *reading.day) * history.hours_on);
    }
    const auto dates = dated(readings);
    if (dates.empty()) {
        series.day = today;
        series.hours_that_day = hours.back();
        series.notes.push_back("No date is given: the last reading is taken to be of today, " +
                               to_text(today) + ".");
    } else {
        const LifeReading& first = *dates.front();
        const LifeReading& last = *dates.back();
        series.day = *last.day;
        series.hours_that_day = last.hours ? *last.hours : days_between(start, *last.day) * history.hours_on;
        if (last.hours && *last.day > *first.day && *last.hours > *first.hours) {
            series.hours_a_day = (*last.hours - *first.hours) / days_between(*first.day, *last.day);
        }
    }
    if (!series.from_new) {
        series.notes.emplace_back(
            "It is not known when the lamp was new: hours count from its first reading, which is taken to be "
            "after the burn-in.");
    }
    series.surveys = merged(readings, hours, series);
    if (series.from_new) leave_out_burn_in(series, history.kind);
    return series;
}

}  // namespace dapple::inference
