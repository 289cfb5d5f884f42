// Readings: what a keeper's meters said, where and when; from a table (CSV) or from JSON.
//
//   date, enclosure, spot | x_cm,y_cm,z_cm, quantity, value, facing, meter, note
//
// Headers are forgiving (case, blanks, common synonyms; inches, millimetres or metres by the column's name: x_in).
// Commas, semicolons or tabs divide; a decimal comma is understood where it cannot divide; quotes and a byte order
// mark are taken off. A column may be named for what it holds (uvi, lux, uvb_uw_cm2) instead of `value`. Where no
// quantity is named it is the UVI, where no facing is named the meter was turned for its highest value.
//
// A reading at a spot is at its position plus its height (reading_point); one with x, y, z is there as is. The
// columns height_cm and height_in give the reading's own height above the spot or point.
//
// Nothing is lost silently: a fault refuses the whole file with every fault named; a line that is fine but cannot
// serve (another enclosure's, the same line again) is named in `left_out`.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "light/facing.h"
#include "problem/problem.h"
#include "scene/enclosure.h"
#include "spectrum/quantity.h"

namespace dapple::inference {

// All values of one quantity at one place and time, one facing and one meter.
struct Reading {
    std::string where;                           // in the file: "line 3", "line 3, line 4"
    std::string date;                            // ISO 8601 with or without time of day; empty: not given
    std::string spot;                            // id; empty: a point
    scene::Vec3 point = scene::Vec3::Zero();     // m, where the sensor was
    std::optional<spectrum::Quantity> quantity;  // nothing: a temperature
    light::Facing facing;
    std::string meter;
    std::string note;
    std::vector<double> values;  // in the quantity's own unit (spectrum/quantity.h); degrees Celsius
    double value = 0;            // robust (readings_repeats.h)
    double scatter = 0;          // one standard deviation of a single value; 0: not known
};

struct Readings {
    std::vector<Reading> sets;  // in the order of their first lines
    Problems left_out;
};

struct ReadingOptions {
    std::string file = "readings";  // its name in messages
    std::string today;              // ISO 8601 date: later readings are faults; empty: no clock
};

// Any bytes are either readings of this enclosure or a list of what is wrong.
Expected<Readings> parse_readings(std::string_view text, const scene::Enclosure& enclosure,
                                  const ReadingOptions& options = {});

// "Flat stone on 2026-03-01 (line 3)", for messages.
std::string in_words(const Reading& reading, const scene::Enclosure& enclosure);

}  // namespace dapple::inference
