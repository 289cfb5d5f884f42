#include "record/csv.h"

#include <fmt/format.h>

namespace dapple::record {

std::string csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0) line += ',';
        const std::string& cell = cells[i];
        if (cell.find_first_of(",\"\r\n") == std::string::npos) {
            line += cell;
            continue;
        }
        line += '"';
        for (const char c : cell) line += c == '"' ? std::string("\"\"") : std::string(1, c);
        line += '"';
    }
    return line + "\r\n";
}

std::optional<std::vector<std::vector<std::string>>> parse_csv(std::string_view text) {
    std::vector<std::vector<std::string>> rows;
    std::vector<std::string> row;
    std::string cell;
    bool quoted = false;
    bool anything = false;  // on this line
    const auto end_line = [&] {
        if (anything) {
            row.push_back(std::move(cell));
            rows.push_back(std::move(row));
        }
        row.clear();
        cell.clear();
        anything = false;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c != '"') {
                cell += c;
            } else if (i + 1 < text.size() && text[i + 1] == '"') {
                cell += '"';
                ++i;
            } else {
                quoted = false;
            }
        } else if (c == '"') {
            quoted = anything = true;
        } else if (c == ',') {
            row.push_back(std::move(cell));
            cell.clear();
            anything = true;
        } else if (c == '\n') {
            end_line();
        } else if (c != '\r') {
            cell += c;
            anything = true;
        }
    }
    if (quoted) return std::nullopt;
    end_line();
    return rows;
}

std::string number_text(double value) {
    return fmt::format("{}", value);
}

}  // namespace dapple::record
