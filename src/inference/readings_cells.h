// What stands in one cell of a table of readings: numbers, units, dates.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "problem/problem.h"
#include "spectrum/quantity.h"

namespace dapple::inference {

// A quantity and the unit it is written in: in own unit = number x factor + offset.
struct Unit {
    std::optional<spectrum::Quantity> quantity;  // nothing: a temperature, own unit degrees Celsius
    double factor = 1;
    double offset = 0;
};

// Names as normalised headers: "uvi", "lux", "uvb_uw_cm2", "temperature_f". Radiometric quantities have no unit of
// their own in common use, so the name must carry it: "uvb" alone is no unit, and `quantity_lacks_unit`.
std::optional<Unit> unit_named(const std::string& normalised_name);
bool quantity_lacks_unit(const std::string& normalised_name);

// "3.1", "3,1", "1200 lux", "21.5 °C": the number, and the unit written after it, as normalised.
struct NumberCell {
    double number;
    std::string unit;
};
// Refused with what was found and what is allowed; the caller says where. A comma with exactly three digits after it
// could divide thousands or be a decimal comma, and is refused unless the number begins with "0,".
Expected<NumberCell> read_number_cell(const std::string& text);

// Whether a unit written after a number ("lux", "w_m2") agrees with the unit the column or row names.
bool agrees(const std::string& normalised_unit, const Unit& unit);

// An ISO 8601 calendar date, with or without a time of day, as written but with "T" between: "2026-03-01T14:30".
std::optional<std::string> read_date(const std::string& text);

}  // namespace dapple::inference
