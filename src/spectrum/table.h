// The tables of the shipped library: `# key: value` lines, one header row, then numbers separated by commas.
// They travel inside the program and are ours: a fault in one is our own mistake and throws std::logic_error.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace dapple::spectrum {

struct Table {
    std::map<std::string, std::string> notes;            // the `# key: value` lines
    std::map<std::string, std::vector<double>> columns;  // by the name in the header row

    bool has(const std::string& column) const { return columns.contains(column); }
    const std::vector<double>& column(const std::string& name) const;
    const std::string& note(const std::string& key) const;
};

// The embedded file of that path below data/.
Table shipped_table(std::string_view path);

// The paths below `folder` (which ends in a slash), those named by its `order.txt` first and in that order.
std::vector<std::string> shipped_tables(std::string_view folder);

}  // namespace dapple::spectrum
