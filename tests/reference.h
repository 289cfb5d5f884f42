// Reads the check data under reference/: CSV with '#' comments and one header row. A missing file or column fails
// the test loudly: a reference that is not there is a failure, not a skip.
#pragma once

#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace dapple::tests {

using Row = std::map<std::string, std::string>;

inline std::vector<std::string> split_csv(const std::string& line) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            cells.emplace_back();
        } else if (c != '\r') {
            cells.back() += c;
        }
    }
    return cells;
}

inline std::vector<Row> read_reference(const std::string& path) {
    std::ifstream in(std::string(DAPPLE_ROOT) + "/reference/" + path);
    if (!in) throw std::runtime_error("reference/" + path + " is missing");
    std::vector<std::string> header;
    std::vector<Row> rows;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line[0] == '#') continue;
        const auto cells = split_csv(line);
        if (header.empty()) {
            header = cells;
            continue;
        }
        Row row;
        for (std::size_t i = 0; i < header.size() && i < cells.size(); ++i) row[header[i]] = cells[i];
        rows.push_back(row);
    }
    return rows;
}

inline double number(const Row& row, const std::string& column) {
    const auto it = row.find(column);
    if (it == row.end()) throw std::runtime_error("no column " + column);
    return std::stod(it->second);
}

// "D=10 L=85" -> {D: 10, L: 85}
inline std::map<std::string, double> parameters(const std::string& text) {
    std::map<std::string, double> values;
    std::istringstream in(text);
    for (std::string word; in >> word;) {
        const auto equals = word.find('=');
        if (equals != std::string::npos) values[word.substr(0, equals)] = std::stod(word.substr(equals + 1));
    }
    return values;
}

}  // namespace dapple::tests
