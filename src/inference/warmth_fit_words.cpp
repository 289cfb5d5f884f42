// The fit of the warmth for programs and for people.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "inference/warmth_fit.h"

namespace dapple::inference {

nlohmann::json to_json(const WarmthFit& fit) {
    nlohmann::json json = warmth::to_json(fit.report);
    json["factors"] = nlohmann::json::array();
    json["set_aside"] = nlohmann::json::array();
    json["cannot_tell"] = fit.cannot_tell;
    for (const WarmthFactor& factor : fit.factors) {
        json["factors"].push_back({{"of", factor.assumption.of},
                                   {"words", factor.assumption.words},
                                   {"value", factor.value},
                                   {"interval", {factor.interval.first, factor.interval.second}}});
    }
    for (const SetAside& reading : fit.set_aside) {
        json["set_aside"].push_back({{"reading", reading.reading}, {"why", reading.why}});
    }
    return json;
}

std::string to_text(const WarmthFit& fit) {
    std::string text = warmth::to_text(fit.report);
    if (fit.used == 0) return text + "There is no temperature among the readings.\n";
    text += fmt::format("Fitted to {} temperature{}; factors on what is published, with 90 % intervals\n",
                        fit.used, fit.used == 1 ? "" : "s");
    for (const WarmthFactor& factor : fit.factors) {
        const bool room = factor.assumption.value == &warmth::Assumptions::room_k;
        text += fmt::format("  {:<44} {}{:.2f}{} ({:.2f} to {:.2f})\n", factor.assumption.words,
                            room && factor.value >= 0 ? "+" : "", factor.value, room ? " K" : "",
                            factor.interval.first, factor.interval.second);
    }
    if (!fit.set_aside.empty()) text += "Set aside\n";
    for (const SetAside& reading : fit.set_aside) {
        text += fmt::format("  {}: {}\n", reading.reading, reading.why);
    }
    for (const std::string& sentence : fit.cannot_tell) text += sentence + "\n";
    return text;
}

}  // namespace dapple::inference
