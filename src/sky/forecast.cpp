#include "sky/forecast.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

namespace dapple::sky {

namespace {

using Json = nlohmann::json;

constexpr std::chrono::hours longest_gap{3};
constexpr double highest_uvi =
    50;  // the highest ever reported is 43 (Cabrol et al. 2014, Front. Environ. Sci. 2:19)
constexpr const char* time_allowed =
    "a time as 2026-06-21T13:00, with Z or an offset such as +02:00 where it is not local";
constexpr const char* uvi_allowed = "a UV index from 0 to 50";

// With `Z` or an offset, or local.
std::optional<Instant> read_time(const std::string& text, const Clock& clock) {
    for (const char* format : {"%FT%TZ", "%FT%RZ"}) {
        Instant time;
        std::istringstream in(text);
        in >> date::parse(format, time);
        if (!in.fail() && in.peek() == std::char_traits<char>::eof()) return time;
    }
    for (const char* format : {"%FT%T%Ez", "%FT%R%Ez"}) {
        Instant time;
        std::istringstream in(text);
        in >> date::parse(format, time);
        if (!in.fail() && in.peek() == std::char_traits<char>::eof()) return time;
    }
    for (const char* format : {"%FT%T", "%FT%R", "%F %T", "%F %R"}) {
        date::local_seconds time;
        std::istringstream in(text);
        in >> date::parse(format, time);
        if (!in.fail() && in.peek() == std::char_traits<char>::eof()) return clock.instant(time);
    }
    return std::nullopt;
}

class Reader {
  public:
    Reader(std::string file, const Clock& clock) : file_(std::move(file)), clock_(clock) {}

    void problem(const std::string& place, std::string found, std::string allowed) {
        constexpr std::size_t enough = 100;
        if (problems_.size() < enough)
            problems_.push_back({file_, place, std::move(found), std::move(allowed)});
    }

    void add(const std::string& time, const std::string& time_place, std::optional<double> uvi,
             const std::string& uvi_text, const std::string& uvi_place) {
        const auto instant = read_time(time, clock_);
        if (!instant) problem(time_place, "\"" + time + "\"", time_allowed);
        if (!uvi || !(*uvi >= 0 && *uvi <= highest_uvi)) problem(uvi_place, uvi_text, uvi_allowed);
        if (instant && !forecast_.entries.empty() && *instant <= forecast_.entries.back().time) {
            problem(time_place, "\"" + time + "\", not after the entry before it", "times that ascend");
        }
        if (instant && uvi) forecast_.entries.push_back({*instant, *uvi});
    }

    void set_source(std::string source) { forecast_.source = std::move(source); }

    Expected<Forecast> finish() && {
        if (problems_.empty() && forecast_.entries.empty())
            problem("", "no entry", "at least one time with its uvi");
        if (!problems_.empty()) return tl::unexpected(std::move(problems_));
        return std::move(forecast_);
    }

  private:
    std::string file_;
    const Clock& clock_;
    Forecast forecast_;
    Problems problems_;
};

std::string trimmed(std::string_view text) {
    const auto is_space = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '"'; };
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return std::string(text);
}

std::vector<std::string> cells_of(const std::string& line) {
    const char separator = line.find(';') != std::string::npos ? ';' : ',';
    std::vector<std::string> cells;
    std::istringstream in(line);
    for (std::string cell; std::getline(in, cell, separator);) cells.push_back(trimmed(cell));
    return cells;
}

std::optional<double> number_in(const std::string& text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

void read_csv(const std::string& text, Reader& reader) {
    std::istringstream lines(text);
    std::optional<std::pair<std::size_t, std::size_t>> columns;  // of time and uvi
    int number = 0;
    for (std::string line; std::getline(lines, line);) {
        ++number;
        if (trimmed(line).empty() || line.front() == '#') continue;
        const std::string place = fmt::format("line {}", number);
        const auto cells = cells_of(line);
        if (!columns) {
            const auto time = std::find(cells.begin(), cells.end(), "time");
            const auto uvi = std::find(cells.begin(), cells.end(), "uvi");
            if (time == cells.end() || uvi == cells.end()) {
                reader.problem(place, "\"" + trimmed(line) + "\"",
                               "a header row with the columns time and uvi");
                return;
            }
            columns = {static_cast<std::size_t>(time - cells.begin()),
                       static_cast<std::size_t>(uvi - cells.begin())};
            continue;
        }
        if (cells.size() <= std::max(columns->first, columns->second)) {
            reader.problem(place, fmt::format("{} cells", cells.size()), "as many as the header has");
            continue;
        }
        const std::string& uvi = cells[columns->second];
        reader.add(cells[columns->first], place, number_in(uvi), "\"" + uvi + "\"", place);
    }
}

void read_json(const Json& document, Reader& reader) {
    for (const auto& [field, value] : document.items()) {
        if (field != "forecast" && field != "source") {
            reader.problem("/" + field, "the unknown field \"" + field + "\"", "forecast, source");
        }
    }
    if (const auto source = document.find("source"); source != document.end() && source->is_string()) {
        reader.set_source(source->get<std::string>());
    }
    const auto list = document.find("forecast");
    if (list == document.end() || !list->is_array()) {
        reader.problem("/forecast", list == document.end() ? "nothing" : list->dump(),
                       R"(a list of {"time": ..., "uvi": ...} (required))");
        return;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
        const Json& entry = (*list)[i];
        const std::string place = fmt::format("/forecast/{}", i);
        if (!entry.is_object()) {
            reader.problem(place, entry.dump(), R"({"time": ..., "uvi": ...})");
            continue;
        }
        const Json time = entry.value("time", Json()), uvi = entry.value("uvi", Json());
        reader.add(time.is_string() ? time.get<std::string>() : time.dump(), place + "/time",
                   uvi.is_number() ? std::optional(uvi.get<double>()) : std::nullopt, uvi.dump(),
                   place + "/uvi");
    }
}

}  // namespace

std::optional<double> Forecast::uvi(Instant time) const {
    const auto next = std::upper_bound(entries.begin(), entries.end(), time,
                                       [](Instant t, const Entry& entry) { return t < entry.time; });
    if (next == entries.begin()) return std::nullopt;
    const Entry& before = *(next - 1);
    if (before.time == time) return before.uvi;
    if (next == entries.end() || next->time - before.time > longest_gap) return std::nullopt;
    const double share = std::chrono::duration<double>(time - before.time) /
                         std::chrono::duration<double>(next->time - before.time);
    return before.uvi + share * (next->uvi - before.uvi);
}

Expected<Forecast> parse_forecast(std::string_view text, const std::string& file, const Clock& clock) {
    Reader reader(file, clock);
    const auto first = text.find_first_not_of(" \t\r\n");
    if (first != std::string_view::npos && (text[first] == '{' || text[first] == '[')) {
        const Json document = Json::parse(text, nullptr, false);
        if (document.is_discarded() || !document.is_object()) {
            return refuse(
                {file, "", "no JSON object", R"({"forecast": [{"time": ..., "uvi": ...}]}, or CSV)"});
        }
        read_json(document, reader);
    } else {
        read_csv(std::string(text), reader);
    }
    return std::move(reader).finish();
}

}  // namespace dapple::sky
