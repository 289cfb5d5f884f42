#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "inference/fit.h"

namespace dapple::inference {

namespace {

const char* kind_name(Unknown::Kind kind) {
    switch (kind) {
        case Unknown::Kind::lamp:
            return "lamp output";
        case Unknown::Kind::screen:
            return "transmittance";
        case Unknown::Kind::foliage:
            return "leaf density";
        case Unknown::Kind::spectrum:
            return "lamp spectrum";
        case Unknown::Kind::meter:
            break;
    }
    return "meter";
}

nlohmann::json as_json(const Interval& interval) {
    return {interval.first, interval.second};
}

}  // namespace

nlohmann::json to_json(const Fit& fit, const std::vector<std::pair<std::string, Prediction>>& spots) {
    nlohmann::json json = {{"factors", nlohmann::json::array()},
                           {"set_aside", nlohmann::json::array()},
                           {"doubts", fit.doubts},
                           {"cannot_tell", fit.cannot_tell},
                           {"unused", fit.unused},
                           {"spots", nlohmann::json::array()}};
    for (const Factor& factor : fit.factors) {
        json["factors"].push_back({{"of", factor.unknown.of},
                                   {"kind", kind_name(factor.unknown.kind)},
                                   {"value", factor.value},
                                   {"interval", as_json(factor.interval)}});
    }
    for (const SetAside& reading : fit.set_aside) {
        json["set_aside"].push_back({{"reading", reading.reading}, {"why", reading.why}});
    }
    for (const auto& [id, prediction] : spots) {
        json["spots"].push_back(
            {{"id", id}, {"uvi", prediction.value}, {"interval", as_json(prediction.interval())}});
    }
    return json;
}

std::string to_text(const Fit& fit, const std::vector<std::pair<std::string, Prediction>>& spots) {
    std::string text = "Factors on the document's values, with 90 % intervals\n";
    for (const Factor& factor : fit.factors) {
        text += fmt::format("  {:<16} {:<14} {:.2f} ({:.2f}-{:.2f})\n", factor.unknown.of,
                            kind_name(factor.unknown.kind), factor.value, factor.interval.first,
                            factor.interval.second);
    }
    if (!spots.empty()) text += "Spots, UVI\n";
    for (const auto& [id, prediction] : spots) {
        const Interval interval = prediction.interval();
        text += fmt::format("  {:<16} {:.2f} ({:.2f}-{:.2f})\n", id, prediction.value, interval.first,
                            interval.second);
    }
    if (!fit.set_aside.empty()) text += "Set aside\n";
    for (const SetAside& reading : fit.set_aside) {
        text += fmt::format("  {}: {}\n", reading.reading, reading.why);
    }
    for (const std::string& sentence : fit.doubts) text += sentence + "\n";
    for (const std::string& sentence : fit.cannot_tell) text += sentence + "\n";
    for (const std::string& sentence : fit.unused) text += sentence + "\n";
    return text;
}

}  // namespace dapple::inference
