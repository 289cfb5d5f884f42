// The report for programs and for people.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "warmth/convection.h"
#include "warmth/warmth.h"

namespace dapple::warmth {

namespace {

nlohmann::json as_json(const Interval& interval) {
    return {interval.first, interval.second};
}

std::string degrees(double celsius, const Interval& interval) {
    return fmt::format("{:.1f} C ({:.0f}-{:.0f})", celsius, interval.first, interval.second);
}

}  // namespace

nlohmann::json to_json(const Report& report) {
    const Balance& b = report.balance;
    nlohmann::json json = {{"spots", nlohmann::json::array()},
                           {"balance",
                            {{"room_c", b.room_k - zero_c},
                             {"lower_air_c", b.lower_k - zero_c},
                             {"upper_air_c", b.upper_k - zero_c},
                             {"radiant_c", b.radiant_k - zero_c},
                             {"in_w", b.in_w},
                             {"through_walls_w", b.walls_w},
                             {"with_air_w", b.air_w},
                             {"radiated_w", b.radiated_w},
                             {"air_l_per_s", 1000 * b.flow}}},
                           {"sensitivity", nlohmann::json::array()},
                           {"notes", report.notes}};
    for (const SpotWarmth& spot : report.spots) {
        json["spots"].push_back({{"id", spot.id},
                                 {"surface_c", spot.surface_c},
                                 {"air_c", spot.air_c},
                                 {"interval", as_json(spot.interval)},
                                 {"air_interval", as_json(spot.air_interval)},
                                 {"night_c", spot.night_c}});
    }
    for (const Sensitivity& s : report.by_assumption) {
        json["sensitivity"].push_back({{"of", s.assumption.of},
                                       {"words", s.assumption.words},
                                       {"sd", s.assumption.sd},
                                       {"surface_k", s.surface_k},
                                       {"air_k", s.air_k}});
    }
    return json;
}

std::string to_text(const Report& report) {
    std::string text;
    if (report.spots.empty()) text += "The document names no spot.\n";
    for (const SpotWarmth& spot : report.spots) {
        text += fmt::format("{:<24} surface {}, air {}; by night {:.1f} C\n", spot.name,
                            degrees(spot.surface_c, spot.interval), degrees(spot.air_c, spot.air_interval),
                            spot.night_c);
    }
    const Balance& b = report.balance;
    text += fmt::format("Air {:.1f} C in the lower half, {:.1f} C in the upper, in a room of {:.1f} C.\n",
                        b.lower_k - zero_c, b.upper_k - zero_c, b.room_k - zero_c);
    text += fmt::format(
        "{:.0f} W of the lamps stay inside: {:.0f} W leave through the walls, {:.0f} W with the air, "
        "{:.0f} W as radiation.\n",
        b.in_w, b.walls_w, b.air_w, b.radiated_w);
    for (const std::string& note : report.notes) text += note + "\n";
    return text;
}

}  // namespace dapple::warmth
