// Moments in time, as the record keeps them: UTC, to the millisecond, written as ISO 8601
// ("2026-03-01T14:30:05.123Z"), which sorts as text in the order of time. The clock is passed in.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace dapple::record {

using Moment = std::chrono::sys_time<std::chrono::milliseconds>;
using Clock = std::function<Moment()>;

std::string to_text(Moment moment);

// A full moment with its offset ("Z" or "+02:00"), a moment without one (taken as UTC), or a day (its beginning).
std::optional<Moment> moment_of(std::string_view text);

Clock system_clock();

}  // namespace dapple::record
