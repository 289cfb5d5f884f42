// The answer of `dapple sun`, as JSON and for the terminal.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "husbandry/sun_report.h"
#include "husbandry/words.h"

namespace dapple::husbandry {

namespace {

using Json = nlohmann::json;

Json windows_json(const sky::Clock& clock, const std::vector<sky::Window>& windows) {
    Json list = Json::array();
    for (const auto& w : windows) list.push_back({{"from", clock.text(w.from)}, {"to", clock.text(w.to)}});
    return list;
}

// Means over each clock hour in which the curve has moments with the sun up.
struct Hour {
    std::string begins;
    double in_band = 0, in_shade = 0;
    int moments = 0;
};

std::vector<Hour> hours_of(const SunReport& report, const OutdoorAnimal& animal) {
    std::vector<Hour> hours;
    for (std::size_t i = 0; i < report.open.size(); ++i) {
        if (report.open[i].elevation_deg <= 0) continue;
        const std::string begins = report.question.clock.minutes(report.open[i].time).substr(0, 2) + ":00";
        if (hours.empty() || hours.back().begins != begins) hours.push_back({begins});
        hours.back().in_band += animal.share_in_band[i];
        hours.back().in_shade += animal.share_in_shade[i];
        ++hours.back().moments;
    }
    for (Hour& hour : hours) {
        hour.in_band /= hour.moments;
        hour.in_shade /= hour.moments;
    }
    return hours;
}

Json outdoor_json(const SunReport& report) {
    Json spots = Json::array();
    for (const OutdoorSpot& spot : report.outdoor->spots) {
        Json entry = {{"id", spot.id}, {"uvi", spot.uvi}, {"sun_share", spot.sun_share}};
        if (report.outdoor->behind_panes) {
            entry["uvi_share"] = spot.uvi_share;
            entry["d3_share"] = spot.d3_share;
        }
        spots.push_back(std::move(entry));
    }
    Json animals = Json::array();
    for (const OutdoorAnimal& animal : report.outdoor->animals) {
        Json hours = Json::array();
        for (const Hour& hour : hours_of(report, animal)) {
            hours.push_back(
                {{"hour", hour.begins}, {"share_in_band", hour.in_band}, {"share_in_shade", hour.in_shade}});
        }
        animals.push_back({{"species", animal.species}, {"hours", std::move(hours)}});
    }
    return {{"enclosure", report.question.shade->id},
            {"spot", report.outdoor->spots[report.spot].id},
            {"spots", std::move(spots)},
            {"animals", std::move(animals)}};
}

// Thousandths are more than the model knows.
Json rounded(const std::vector<double>& values) {
    Json list = Json::array();
    for (const double v : values) list.push_back(std::round(v * 1000) / 1000);
    return list;
}

Json plan_json(const SunReport& report) {
    const OutdoorPlan& plan = *report.outdoor->plan;
    const auto cm = [](const scene::Vec3& p) { return Json{100 * p.x(), 100 * p.y(), 100 * p.z()}; };
    Json times = Json::array(), uvi = Json::array(), sun = Json::array();
    for (std::size_t i = 0; i < plan.times.size(); ++i) {
        times.push_back(report.question.clock.text(plan.times[i]));
        uvi.push_back(rounded(plan.uvi[i]));
        sun.push_back(rounded(plan.sun_share[i]));
    }
    Json answer = {{"min_cm", cm(plan.min)},
                   {"max_cm", cm(plan.max)},
                   {"counts", {plan.columns, plan.rows, 1}},
                   {"times", std::move(times)},
                   {"uvi", std::move(uvi)},
                   {"sun_share", std::move(sun)},
                   {"share_in_sun", rounded(plan.share_in_sun)}};
    if (plan.band) answer["share_in_band"] = rounded(plan.share_in_band);
    return answer;
}

std::string windows_text(const sky::Clock& clock, const std::vector<sky::Window>& windows) {
    if (windows.empty()) return "at no time";
    std::string text;
    for (const auto& w : windows) {
        text += fmt::format("{}{}-{}", text.empty() ? "" : ", ", clock.minutes(w.from), clock.minutes(w.to));
    }
    return text;
}

std::string answer_text(const SunReport& report) {
    const auto& clock = report.question.clock;
    if (!report.band && !report.animal.empty())
        return "Nobody knows " + report.animal + "'s UV zone: no window.\n";
    if (report.band) {
        return fmt::format("{} (UVI {:g} to {:g}): {}\n", report.animal, report.band->low, report.band->high,
                           windows_text(clock, report.windows));
    }
    std::string text;
    for (const ZoneWindows& zone : report.zones) {
        text += fmt::format("UV zone {} (UVI {:g} to {:g}): {}\n", zone.zone, zone.band.low, zone.band.high,
                            windows_text(clock, zone.windows));
    }
    return text;
}

std::string hours_text(const SunReport& report) {
    std::string text;
    for (const OutdoorAnimal& animal : report.outdoor->animals) {
        text += "\nReach of " + animal.species + " by the hour: in its band, in shade\n";
        for (const Hour& hour : hours_of(report, animal)) {
            text += fmt::format("  {}  {:3.0f} %  {:3.0f} %\n", hour.begins, 100 * hour.in_band,
                                100 * hour.in_shade);
        }
    }
    return text;
}

}  // namespace

Json to_json(const SunReport& report) {
    const auto& clock = report.question.clock;
    Json curve = Json::array();
    for (std::size_t i = 0; i < report.open.size(); ++i) {
        const sky::Moment& m = report.open[i];
        Json moment = {{"time", clock.text(m.time)},
                       {"elevation_deg", m.elevation_deg},
                       {"azimuth_deg", m.azimuth_deg},
                       {"uvi", report.uvi[i]}};
        if (report.outdoor) moment["open_uvi"] = m.uv.uvi;
        curve.push_back(std::move(moment));
    }
    const bool shaded = report.outdoor.has_value();
    Json answer = {
        {"curve", std::move(curve)},
        {"max",
         {{"time", clock.text(shaded ? report.open[report.highest].time : report.highest_open.time)},
          {"uvi", shaded ? report.uvi[report.highest] : report.highest_open.uv.uvi}}},
        {"windows", windows_json(clock, report.windows)},
        {"time_zone", clock.name()},
        {"facing", shaded ? "aimed" : "up"},
        {"ozone_du", report.ozone_du},
        {"cautions", report.cautions}};
    if (!report.animal.empty()) answer["species"] = report.animal;
    if (report.band) answer["band"] = {report.band->low, report.band->high};
    if (report.dose) {
        answer["dose"] = {{"erythemal_j_m2", report.dose->erythemal}, {"d3_j_m2", report.dose->d3}};
    }
    for (const ZoneWindows& zone : report.zones) {
        answer["zones"].push_back({{"zone", zone.zone},
                                   {"band", {zone.band.low, zone.band.high}},
                                   {"windows", windows_json(clock, zone.windows)}});
    }
    if (report.question.forecast && !report.question.forecast->source.empty()) {
        answer["forecast"] = report.question.forecast->source;
    }
    if (shaded) answer["shade"] = outdoor_json(report);
    if (shaded && report.outdoor->plan) answer["plan"] = plan_json(report);
    return answer;
}

std::string to_text(const SunReport& report) {
    const auto& clock = report.question.clock;
    std::string text = fmt::format("{} at {:g}, {:g}, clock of {}, ozone {:.0f} DU\n",
                                   date::format("%F", report.question.date), report.question.site.lat_deg,
                                   report.question.site.lon_deg, clock.name(), report.ozone_du);
    text += report.outdoor ? "UVI of a meter aimed at " + report.outdoor->spots[report.spot].name +
                                 " under " + report.question.shade->name + "\n\n"
                           : "UVI of a horizontal surface in the open\n\n";
    for (std::size_t i = 0; i < report.open.size(); ++i) {
        const sky::Moment& m = report.open[i];
        const std::string at = clock.minutes(m.time);
        if (m.elevation_deg <= 0 || !at.ends_with(":00")) continue;
        text += fmt::format("  {}  sun {:2.0f} deg high, {:3.0f} deg  UVI {}\n", at, m.elevation_deg,
                            m.azimuth_deg, uvi_in_words(report.uvi[i]));
    }
    const bool shaded = report.outdoor.has_value();
    const double most = shaded ? report.uvi[report.highest] : report.highest_open.uv.uvi;
    text += fmt::format("  highest: UVI {} at {}\n\n", uvi_in_words(most),
                        clock.minutes(shaded ? report.open[report.highest].time : report.highest_open.time));
    text += answer_text(report);
    if (report.dose && !report.windows.empty()) {
        text += fmt::format(
            "In these hours a flat back {} gets {:.0f} J/m2 erythemal, {:.0f} J/m2 D3-effective.\n",
            shaded ? "at " + report.outdoor->spots[report.spot].name : "in the open", report.dose->erythemal,
            report.dose->d3);
    }
    if (shaded) text += hours_text(report);
    for (const std::string& caution : report.cautions) text += "\nCaution: " + caution + "\n";
    return text;
}

}  // namespace dapple::husbandry
