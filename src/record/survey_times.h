// When enclosures were last read, and how often they should be. For this folder only.
#pragma once

#include <cstdint>
#include <string>

#include "record/thing.h"

namespace dapple::record {

inline constexpr int default_survey_days = 30;  // common practice, no source

// Columns `enclosure`, `taken_at` (null: never) of every enclosure in use at the sites (their parameters' marks); an index
// answers it however many readings there are.
std::string last_readings_sql(const std::string& site_marks);

// Its own interval, else the site's (0: none), else `otherwise`.
int survey_interval(const Thing& enclosure, std::int64_t of_site, int otherwise = default_survey_days);

}  // namespace dapple::record
