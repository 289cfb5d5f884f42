// Clock time at a place: an IANA zone of the system's own table, daylight saving and all, or whole hours by longitude.
#pragma once

#include <date/tz.h>

#include <optional>
#include <string>

#include "problem/problem.h"
#include "sky/sun_position.h"

namespace dapple::sky {

// A day as written, of the years for which the sun's place is known.
inline constexpr const char* day_allowed = "a date as YYYY-MM-DD, 1950 to 2050";
std::optional<date::year_month_day> read_day(const std::string& written);

class Clock {
  public:
    // "Europe/Vienna". `place` says in messages where the name stood.
    static Expected<Clock> named(const std::string& zone, const Problem& where);
    // The nautical zone: as many whole hours from UTC as fit the longitude.
    static Clock by_longitude(double lon_deg);

    const std::string& name() const { return name_; }  // "Europe/Vienna", "UTC+1"

    Instant begin_of(date::year_month_day day) const;  // its first moment, also where midnight is left out
    Instant end_of(date::year_month_day day) const;    // the first moment of the next
    date::year_month_day day_of(Instant time) const;
    // A local clock time; the earlier of two that read alike.
    Instant instant(date::local_seconds time) const;

    std::string text(Instant time) const;     // "2026-06-21T13:05:00+02:00"
    std::string minutes(Instant time) const;  // "13:05"

  private:
    std::string name_;
    const date::time_zone* zone_ = nullptr;
    std::chrono::seconds offset_{0};  // where there is no zone
    std::chrono::seconds offset(Instant time) const;
};

}  // namespace dapple::sky
