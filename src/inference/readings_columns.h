// Which column of a table of readings says what.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "inference/readings_cells.h"
#include "inference/readings_table.h"

namespace dapple::inference {

// A length in a column whose name ends in its unit.
struct LengthColumn {
    std::string header;
    double metres;  // per unit
};

struct ValueColumn {
    std::string header;
    std::optional<Unit> unit;  // nothing: the row's `quantity` and `unit` say it
};

struct Columns {
    std::map<std::string, std::string> named;          // "date", "spot", ... -> header in this table
    std::array<std::optional<LengthColumn>, 3> point;  // x, y, z
    std::optional<LengthColumn> height;
    std::vector<ValueColumn> values;

    // The cell of a named column; empty where there is none.
    std::string cell(const Row& row, const std::string& name) const;
};

// Columns that mean nothing here are named in `left_out`; those that look like a slip of the pen are faults.
Expected<Columns> read_columns(const Table& table, const std::string& file, Problems& left_out);

}  // namespace dapple::inference
