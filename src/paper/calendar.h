// What needs doing as a calendar that other programs follow: iCalendar (RFC 5545), an all-day event for every survey,
// lamp, calibration and task of record/due.h.
//
// An event's UID follows from what is to be done and on which thing, so that a calendar that reads the feed again moves the
// event rather than adding one. What is overdue stands on today, and says since when.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/due.h"

namespace dapple::paper {

struct CalendarOptions {
    record::Moment now;  // of DTSTAMP; its day is today
    int ahead_days = 730;
    std::optional<int> remind_hour = {};  // an alarm at this hour of the day; nothing: none
    std::string public_url = {};          // of the web application; empty: no links
    std::string name = "Surveys, lamps and calibrations";
};

// The calendar's text, with lines folded and ended as the standard asks.
std::string to_icalendar(const std::vector<record::Due>& list, const CalendarOptions& options);

record::Result<std::string> calendar(const record::Store& store, record::LampLives& lives,
                                     const std::vector<std::string>& sites, const CalendarOptions& options);

}  // namespace dapple::paper
