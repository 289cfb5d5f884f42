#include "spectrum/table.h"

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "embedded/files.h"

namespace dapple::spectrum {

namespace {

std::string_view take_until(std::string_view& text, char separator) {
    const auto end = text.find(separator);
    const auto part = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    return part;
}

[[noreturn]] void broken(std::string_view path, const std::string& why) {
    throw std::logic_error("shipped table " + std::string(path) + ": " + why);
}

void read_note(Table& table, std::string_view line) {
    line.remove_prefix(1);
    const auto colon = line.find(": ");
    if (colon == std::string_view::npos) return;
    const auto begin = line.find_first_not_of(' ');
    table.notes.emplace(line.substr(begin, colon - begin), line.substr(colon + 2));
}

double read_number(std::string_view path, std::string_view cell) {
    double value = 0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (error != std::errc() || end != cell.data() + cell.size()) {
        broken(path, "no number: " + std::string(cell));
    }
    return value;
}

std::string_view shipped_file(std::string_view path) {
    const auto bytes = embedded::find(embedded::data(), path);
    if (!bytes) broken(path, "is missing");
    return *bytes;
}

}  // namespace

const std::vector<double>& Table::column(const std::string& name) const {
    const auto it = columns.find(name);
    if (it == columns.end()) throw std::logic_error("shipped table without column " + name);
    return it->second;
}

const std::string& Table::note(const std::string& key) const {
    const auto it = notes.find(key);
    if (it == notes.end()) throw std::logic_error("shipped table without note " + key);
    return it->second;
}

Table shipped_table(std::string_view path) {
    auto text = shipped_file(path);
    Table table;
    std::vector<std::vector<double>*> columns;
    while (!text.empty()) {
        auto line = take_until(text, '\n');
        if (line.empty()) continue;
        if (line.front() == '#') {
            read_note(table, line);
        } else if (columns.empty()) {
            while (!line.empty()) columns.push_back(&table.columns[std::string(take_until(line, ','))]);
        } else {
            for (auto* column : columns) column->push_back(read_number(path, take_until(line, ',')));
        }
    }
    return table;
}

std::vector<std::string> shipped_tables(std::string_view folder) {
    std::vector<std::string> paths;
    auto order = shipped_file(std::string(folder) + "order.txt");
    while (!order.empty()) {
        const auto id = take_until(order, '\n');
        if (!id.empty()) paths.push_back(std::string(folder) + std::string(id) + ".csv");
    }
    std::vector<std::string> others;
    for (const auto& file : embedded::data()) {
        const bool listed = std::find(paths.begin(), paths.end(), file.path) != paths.end();
        if (file.path.starts_with(folder) && file.path.ends_with(".csv") && !listed) {
            others.emplace_back(file.path);
        }
    }
    std::sort(others.begin(), others.end());
    paths.insert(paths.end(), others.begin(), others.end());
    return paths;
}

}  // namespace dapple::spectrum
