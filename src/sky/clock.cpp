#include "sky/clock.h"

#include <fmt/format.h>

#include <cmath>
#include <sstream>
#include <stdexcept>
#include <vector>

namespace dapple::sky {

std::optional<date::year_month_day> read_day(const std::string& written) {
    using namespace date::literals;
    date::year_month_day day;
    std::istringstream in(written);
    in >> date::parse("%F", day);
    const bool whole = !in.fail() && in.peek() == std::char_traits<char>::eof() && day.ok();
    if (!whole || day.year() < 1950_y || day.year() > 2050_y) return std::nullopt;
    return day;
}

Expected<Clock> Clock::named(const std::string& zone, const Problem& where) {
    Clock clock;
    clock.name_ = zone;
    try {
        clock.zone_ = date::locate_zone(zone);
        return clock;
    } catch (const std::runtime_error&) {  // the library's way of saying that there is none of that name
        std::vector<std::string> names;
        for (const auto& known : date::get_tzdb().zones) names.push_back(known.name());
        const std::string near = nearest(zone, names);
        Problem problem = where;
        problem.found = "\"" + zone + "\"";
        problem.allowed = "an IANA time zone such as Europe/Vienna";
        if (!near.empty()) problem.allowed = "\"" + near + "\", which is nearest, or another IANA time zone";
        return refuse(problem);
    }
}

Clock Clock::by_longitude(double lon_deg) {
    Clock clock;
    const auto hours = std::lround(lon_deg / 15);
    clock.offset_ = std::chrono::hours(hours);
    clock.name_ = hours == 0 ? "UTC" : fmt::format("UTC{:+d}", hours);
    return clock;
}

Instant Clock::instant(date::local_seconds time) const {
    if (zone_ != nullptr) return zone_->to_sys(time, date::choose::earliest);
    return Instant(time.time_since_epoch() - offset_);
}

Instant Clock::begin_of(date::year_month_day day) const {
    return instant(date::local_days(day));
}

Instant Clock::end_of(date::year_month_day day) const {
    return instant(date::local_days(day) + date::days(1));
}

std::chrono::seconds Clock::offset(Instant time) const {
    return zone_ == nullptr ? offset_ : zone_->get_info(time).offset;
}

date::year_month_day Clock::day_of(Instant time) const {
    return date::year_month_day(date::floor<date::days>(time + offset(time)));
}

std::string Clock::text(Instant time) const {
    const auto shift = offset(time);
    const auto minutes = std::chrono::duration_cast<std::chrono::minutes>(shift).count();
    return date::format("%Y-%m-%dT%H:%M:%S", time + shift) +
           fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+', std::abs(minutes) / 60,
                       std::abs(minutes) % 60);
}

std::string Clock::minutes(Instant time) const {
    return date::format("%H:%M", date::round<std::chrono::minutes>(time + offset(time)));
}

}  // namespace dapple::sky
