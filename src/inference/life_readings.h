// Readings that follow lamps through their lives; from a table (CSV) or from JSON.
//
//   date, enclosure, lamp, spot, quantity, value, hours
//
// Headers are forgiving, as in readings.h. A column may be named for what it holds (uvi, lux) instead of `value`.
// `hours` are the hours the lamp had burned; where they are not given they follow from the date. Nothing is lost
// silently: a fault refuses the whole file with every fault named.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "inference/life_date.h"
#include "problem/problem.h"
#include "spectrum/quantity.h"

namespace dapple::inference {

struct LifeReading {
    std::string place;  // in the file: "line 3"
    std::string enclosure;
    std::string lamp;
    std::string spot;  // empty: always the same, unnamed
    std::optional<Day> day;
    std::optional<double> hours;
    spectrum::Quantity quantity = spectrum::Quantity::uvi;
    double value = 0;  // in the quantity's own unit; above zero, or zero for the UVI
};

struct LifeReadingOptions {
    std::string file = "readings";  // its name in messages
    std::optional<Day> today = {};  // later readings are faults; nothing: no clock
};

Expected<std::vector<LifeReading>> parse_life_readings(std::string_view text,
                                                       const LifeReadingOptions& options = {});

}  // namespace dapple::inference
