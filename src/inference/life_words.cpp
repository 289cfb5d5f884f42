// Lamp life for people and for programs.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "inference/life.h"

namespace dapple::inference {

namespace {

using Json = nlohmann::json;

std::string words(const std::optional<Day>& day) {
    return day ? to_text(*day) : "more than a century off";
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::string called(const SpotLife& spot) {
    return spot.name.empty() ? "the place that was read" : spot.name;
}

std::string plural(std::size_t count, const std::string& thing) {
    return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

std::string leaving_in_words(const SpotLife& spot, const Leaving& leaving) {
    if (leaving.from_start) {
        return fmt::format("{} was below the band ({:.3g}) when it was first read.", called(spot), spot.low);
    }
    if (leaving.probability_gone > 0.5) {
        return fmt::format(
            "{} had left the band (below {:.3g}) by the last reading, with probability {:.2f}; "
            "most likely on {} (90 %: {} to {}).",
            called(spot), spot.low, leaving.probability_gone, words(leaving.date), words(leaving.early),
            words(leaving.late));
    }
    return fmt::format("{}{} leaves the band (below {:.3g}) on {} (90 %: {} to {}).", called(spot),
                       spot.read ? "" : ", which was not read but follows by the computed field,", spot.low,
                       words(leaving.date), words(leaving.early), words(leaving.late));
}

std::string calendar_in_words(const CalendarComparison& c) {
    const double lamps = std::abs(c.lamps_saved_a_year);
    std::string money;
    if (c.money_saved_a_year) money = fmt::format(", {:.2f} in your money", std::abs(*c.money_saved_a_year));
    const std::string life = fmt::format("{}{:.1f} months", c.at_least ? "at least " : "", c.measured_months);
    const std::string out =
        c.days_out_avoided_a_year < 0.5
            ? std::string(".")
            : fmt::format(", and {:.0f} days a year out of the band avoided.", c.days_out_avoided_a_year);
    if (c.lamps_saved_a_year >= 0) {
        return fmt::format(
            "Read on and replaced as it leaves the band, it serves {} and not {:g}: {}{:.2f} lamps a year "
            "saved{}{}",
            life, c.every_months, c.at_least ? "at least " : "", lamps, money, out);
    }
    return fmt::format(
        "Read on and replaced as it leaves the band, it serves {}, less than the calendar's {:g}: {:.2f} "
        "lamps a year more{}{}",
        life, c.every_months, lamps, money, out);
}

Json date(const std::optional<Day>& day) {
    return day ? Json(to_text(*day)) : Json(nullptr);
}

Json to_json(const Leaving* leaving) {
    if (leaving == nullptr) return nullptr;
    return {{"date", date(leaving->date)},
            {"interval", {date(leaving->early), date(leaving->late)}},
            {"hours", leaving->hours},
            {"probability_gone", leaving->probability_gone},
            {"from_start", leaving->from_start}};
}

Json to_json(const std::optional<CalendarComparison>& c) {
    if (!c) return nullptr;
    return {{"every_months", c->every_months},
            {"measured_months", c->measured_months},
            {"at_least", c->at_least},
            {"lamps_saved_a_year", c->lamps_saved_a_year},
            {"money_saved_a_year", c->money_saved_a_year ? Json(*c->money_saved_a_year) : Json(nullptr)},
            {"days_out_avoided_a_year", c->days_out_avoided_a_year}};
}

Json to_json(const LampLife& lamp) {
    Json spots = Json::array();
    for (const SpotLife& spot : lamp.spots) {
        const Leaving* leaving = spot.leaving ? &*spot.leaving : nullptr;
        spots.push_back({{"id", spot.id},
                         {"name", spot.name},
                         {"read", spot.read},
                         {"low", spot.low},
                         {"leaves_band", to_json(leaving)},
                         {"beyond_limit", leaving != nullptr && leaving->beyond_limit}});
    }
    Json set_aside = Json::array();
    for (const DoubtfulReading& reading : lamp.set_aside) {
        set_aside.push_back({{"reading", reading.reading}, {"probability", reading.probability}});
    }
    const Leaving* leaving = lamp.leaving();
    return {{"lamp", lamp.lamp},
            {"name", lamp.name},
            {"enclosure", lamp.enclosure.empty() ? Json(nullptr) : Json(lamp.enclosure)},
            {"kind", name(lamp.kind)},
            {"readings", lamp.surveys},
            {"alpha_per_1000h", lamp.alpha},
            {"alpha_interval", {lamp.alpha_interval.first, lamp.alpha_interval.second}},
            {"half_life_h", lamp.half_life_h},
            {"leaves_band", to_json(leaving)},
            {"beyond_limit", leaving != nullptr && leaving->beyond_limit},
            {"spots", std::move(spots)},
            {"calendar", to_json(lamp.calendar)},
            {"set_aside", std::move(set_aside)},
            {"words", in_words(lamp)}};
}

}  // namespace

std::vector<std::string> in_words(const LampLife& lamp) {
    std::vector<std::string> sentences;
    sentences.push_back(
        fmt::format("It loses {:.1f} % of its output in 1000 hours (90 %: {:.1f} to {:.1f}) and half in "
                    "{:.0f} hours; from {} "
                    "over {:.0f} hours.",
                    100 * (1 - std::exp(-lamp.alpha)), 100 * (1 - std::exp(-lamp.alpha_interval.first)),
                    100 * (1 - std::exp(-lamp.alpha_interval.second)), lamp.half_life_h,
                    plural(lamp.surveys, "reading"), lamp.span_h));
    for (const SpotLife& spot : lamp.spots) {
        if (spot.leaving) sentences.push_back(leaving_in_words(spot, *spot.leaving));
    }
    if (const Leaving* leaving = lamp.leaving(); leaving != nullptr && leaving->beyond_limit) {
        sentences.push_back(fmt::format(
            "That is further out than six times the {:.0f} hours observed, the furthest ANSI/IES TM-21 would "
            "project: take it as a reason to read again, not as a date to rely on.",
            lamp.span_h));
    }
    if (lamp.calendar) sentences.push_back(calendar_in_words(*lamp.calendar));
    for (const DoubtfulReading& reading : lamp.set_aside) {
        sentences.push_back(
            fmt::format("{} does not fit the others (probability {:.2f}) and hardly counts: something in the "
                        "way, another "
                        "height, or another lamp?",
                        reading.reading, reading.probability));
    }
    for (const std::string& note : lamp.notes) sentences.push_back(note);
    // Spots are named as keepers write them, and places as files number them: sentences begin with a capital.
    for (std::string& sentence : sentences) sentence = capital(std::move(sentence));
    return sentences;
}

nlohmann::json to_json(const Life& life) {
    Json lamps = Json::array();
    for (const LampLife& lamp : life.lamps) lamps.push_back(to_json(lamp));
    return {{"lamps", std::move(lamps)}, {"notes", life.notes}};
}

}  // namespace dapple::inference
