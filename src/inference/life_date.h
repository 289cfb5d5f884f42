// Calendar days, written as ISO 8601 (2026-03-01).
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace dapple::inference {

using Day = std::chrono::sys_days;

// A day that exists; a time of day after `T` or a blank is read over. Nothing else is understood: 3/4/2026 could be
// March or April.
std::optional<Day> day_of(std::string_view text);
std::string to_text(Day day);

inline double days_between(Day from, Day to) {
    return static_cast<double>((to - from).count());
}

}  // namespace dapple::inference
