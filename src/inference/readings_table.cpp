#include "inference/readings_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <set>

#include "scene/json_text.h"

namespace dapple::inference {

namespace {

bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f';
}

struct Line {
    std::size_t number;
    std::vector<std::string> cells;
    bool blank() const {
        return std::all_of(cells.begin(), cells.end(), [](const std::string& cell) { return cell.empty(); });
    }
};

char delimiter_of(std::string_view text) {
    const std::string_view first = text.substr(0, text.find('\n'));
    for (const char c : {'\t', ';'}) {
        if (first.find(c) != std::string_view::npos) return c;
    }
    return ',';
}

// Lines with their cells; a quoted cell may hold delimiters, line ends and doubled quotes.
Expected<std::vector<Line>> cut(std::string_view text, const std::string& file) {
    const char delimiter = delimiter_of(text);
    std::vector<Line> lines;
    Line line{1, {}};
    std::string cell;
    bool quoted = false;
    std::size_t number = 1;
    std::size_t quote_opened = 0;
    const auto end_cell = [&] {
        line.cells.push_back(trimmed(cell));
        cell.clear();
    };
    const auto end_line = [&] {
        end_cell();
        if (!line.blank()) lines.push_back(std::move(line));
        line = {number, {}};
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '\n') ++number;
        if (quoted) {
            if (c != '"') {
                cell += c;
            } else if (i + 1 < text.size() && text[i + 1] == '"') {
                cell += text[++i];
            } else {
                quoted = false;
            }
        } else if (c == '"' && trimmed(cell).empty()) {
            quoted = true;
            quote_opened = number;
            cell.clear();
        } else if (c == delimiter) {
            end_cell();
        } else if (c == '\n') {
            end_line();
        } else {
            cell += c;
        }
    }
    end_line();
    if (quoted) {
        return refuse(
            {file, fmt::format("line {}", quote_opened), "a quote that is never closed", "quotes in pairs"});
    }
    return lines;
}

std::string text_of(const scene::Json& value) {
    return value.is_string() ? value.get<std::string>() : value.is_null() ? "" : value.dump();
}

// The values of a field: one, or each of an array of plain values; empty: neither.
std::vector<std::string> texts_of(const scene::Json& value) {
    if (!value.is_structured()) return {trimmed(text_of(value))};
    std::vector<std::string> texts;
    for (const scene::Json& one : value) {
        if (!value.is_array() || one.is_structured()) return {};
        texts.push_back(trimmed(text_of(one)));
    }
    return texts;
}

void add_rows(Table& table, const scene::Json& object, const std::string& place, const std::string& file,
              Problems& problems) {
    Row row{place, {}};
    std::vector<std::string> values;
    std::string value_name;
    for (const auto& [key, value] : object.items()) {
        const std::string header = normalised(key);
        if (std::find(table.headers.begin(), table.headers.end(), header) == table.headers.end()) {
            table.headers.push_back(header);
        }
        const std::vector<std::string> texts = texts_of(value);
        if (texts.empty() || (texts.size() > 1 && !value_name.empty())) {
            problems.push_back({file, scene::below(place, key), scene::quoted(value),
                                "text, a number, or in one field an array of numbers"});
        } else if (!row.cells.emplace(header, texts.front()).second) {
            problems.push_back(
                {file, scene::below(place, key), "a field of the same name twice", "each once"});
        } else if (texts.size() > 1) {
            values = texts;
            value_name = header;
        }
    }
    table.rows.push_back(row);
    for (std::size_t i = 1; i < values.size(); ++i) {
        row.cells[value_name] = values[i];
        table.rows.push_back(row);
    }
}

}  // namespace

std::string trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
    return std::string(text);
}

std::string in_quotes(std::string_view text) {
    return scene::quoted(text);
}

std::string normalised(std::string_view header) {
    std::string plain;
    for (std::size_t i = 0; i < header.size(); ++i) {
        const std::string_view rest = header.substr(i);
        // Micro sign and Greek mu; superscript two; degree sign.
        if (rest.starts_with("\u00b5") || rest.starts_with("\u03bc")) {
            plain += 'u';
            ++i;
        } else if (rest.starts_with("\u00b2")) {
            plain += '2';
            ++i;
        } else if (rest.starts_with("\u00b0")) {
            ++i;
        } else if (std::isalnum(static_cast<unsigned char>(header[i])) != 0 || (header[i] & 0x80) != 0) {
            plain += static_cast<char>(std::tolower(static_cast<unsigned char>(header[i])));
        } else if (!plain.empty() && plain.back() != '_') {
            plain += '_';
        }
    }
    while (plain.ends_with('_')) plain.pop_back();
    return plain;
}

Expected<Table> read_csv(std::string_view text, const std::string& file) {
    const Expected<std::vector<Line>> lines = cut(text, file);
    if (!lines) return tl::unexpected(lines.error());
    if (lines->empty()) return refuse({file, "", "nothing", "a line of headers, then readings, one a line"});
    if (lines->size() > most_rows) {
        return refuse({file, "", fmt::format("{} lines", lines->size()),
                       fmt::format("at most {} lines; divide the file", most_rows)});
    }
    Table table;
    Problems problems;
    std::set<std::string> seen;
    for (const std::string& header : lines->front().cells) {
        table.headers.push_back(normalised(header));
        if (!table.headers.back().empty() && !seen.insert(table.headers.back()).second) {
            problems.push_back({file, fmt::format("line {}", lines->front().number),
                                "two columns named " + in_quotes(header), "each name once"});
        }
    }
    for (std::size_t i = 1; i < lines->size(); ++i) {
        const Line& line = (*lines)[i];
        Row row{fmt::format("line {}", line.number), {}};
        for (std::size_t c = 0; c < line.cells.size(); ++c) {
            if (c < table.headers.size() && !table.headers[c].empty()) {
                row.cells[table.headers[c]] = line.cells[c];
            } else if (!line.cells[c].empty()) {
                problems.push_back(
                    {file, row.place, in_quotes(line.cells[c]) + " in a column without a header",
                     fmt::format(
                         "{} cells, as in the first line; a decimal comma needs quotes, or semicolons "
                         "between the cells",
                         table.headers.size())});
                break;
            }
        }
        table.rows.push_back(std::move(row));
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return table;
}

Expected<Table> read_json(std::string_view text, const std::string& file) {
    const auto json = scene::parse_json(text, file);
    if (!json) return tl::unexpected(json.error());
    const bool wrapped = json->is_object() && json->contains("readings");
    const scene::Json& list = wrapped ? json->at("readings") : *json;
    const std::string root = wrapped ? "/readings" : "";
    if (!list.is_array()) {
        return refuse({file, root, scene::quoted(list), "an array of readings, each an object"});
    }
    if (list.size() > most_rows) {
        return refuse({file, root, fmt::format("{} readings", list.size()),
                       fmt::format("at most {} readings; divide the file", most_rows)});
    }
    Table table;
    Problems problems;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string place = scene::below(root, i);
        if (list[i].is_object()) {
            add_rows(table, list[i], place, file, problems);
        } else {
            problems.push_back({file, place, scene::quoted(list[i]), "an object with a reading's fields"});
        }
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return table;
}

}  // namespace dapple::inference
