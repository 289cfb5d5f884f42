// A table as text or JSON, cut into rows of named cells; what the cells mean is readings.h's business.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"

namespace dapple::inference {

struct Row {
    std::string place;                         // "line 3", or a JSON pointer
    std::map<std::string, std::string> cells;  // by header as normalised, blanks trimmed off
};

struct Table {
    std::vector<std::string> headers;  // normalised, in their order
    std::vector<Row> rows;
};

inline constexpr std::size_t most_rows = 100000;

// "X (cm)" -> "x_cm", "µW/cm²" -> "uw_cm2": lower case, words joined by underscores.
std::string normalised(std::string_view header);
std::string trimmed(std::string_view text);

// As it is quoted in messages (scene/json_text.h).
std::string in_quotes(std::string_view text);

// CSV after RFC 4180, with any of comma, semicolon and tab (the first line decides); lines that are blank are
// passed over.
Expected<Table> read_csv(std::string_view text, const std::string& file);

// An array of objects, or an object with such an array as `readings`. An array of numbers as `value` is as many
// rows.
Expected<Table> read_json(std::string_view text, const std::string& file);

}  // namespace dapple::inference
