#include "inference/readings_columns.h"

#include <fmt/format.h>

#include <algorithm>

namespace dapple::inference {

namespace {

const std::map<std::string, std::string>& synonyms() {
    static const std::map<std::string, std::string> known = {
        {"date", "date"},
        {"day", "date"},
        {"when", "date"},
        {"datetime", "date"},
        {"timestamp", "date"},
        {"time", "time"},
        {"hour", "time"},
        {"enclosure", "enclosure"},
        {"enclosure_id", "enclosure"},
        {"tank", "enclosure"},
        {"vivarium", "enclosure"},
        {"spot", "spot"},
        {"spot_id", "spot"},
        {"place", "spot"},
        {"where", "spot"},
        {"location", "spot"},
        {"quantity", "quantity"},
        {"what", "quantity"},
        {"measured", "quantity"},
        {"unit", "unit"},
        {"units", "unit"},
        {"facing", "facing"},
        {"direction", "facing"},
        {"meter", "meter"},
        {"device", "meter"},
        {"instrument", "meter"},
        {"note", "note"},
        {"notes", "note"},
        {"comment", "note"},
        {"comments", "note"},
        {"remark", "note"},
    };
    return known;
}

bool holds_value(const std::string& header) {
    return header == "value" || header == "values" || header == "reading" || header == "readings";
}

// "x_cm" -> axis "x" and 0.01 m; nothing where the header is no length.
struct Length {
    std::string axis;
    double metres;
};
std::optional<Length> length_named(const std::string& header) {
    static const std::map<std::string, double> units = {{"cm", 0.01},   {"mm", 0.001},    {"m", 1.0},
                                                        {"in", 0.0254}, {"inch", 0.0254}, {"inches", 0.0254}};
    const std::size_t cut = header.rfind('_');
    if (cut == std::string::npos) return std::nullopt;
    const auto unit = units.find(header.substr(cut + 1));
    const std::string axis = header.substr(0, cut);
    const bool known = axis == "x" || axis == "y" || axis == "z" || axis == "height";
    if (!known || unit == units.end()) return std::nullopt;
    return Length{axis, unit->second};
}

std::vector<std::string> known_headers() {
    std::vector<std::string> all = {"value", "x_cm", "y_cm", "z_cm", "height_cm", "uvi", "lux", "uvb_w_m2"};
    for (const auto& [word, meaning] : synonyms()) all.push_back(word);
    return all;
}

}  // namespace

std::string Columns::cell(const Row& row, const std::string& name) const {
    const auto header = named.find(name);
    if (header == named.end()) return "";
    const auto cell = row.cells.find(header->second);
    return cell == row.cells.end() ? "" : cell->second;
}

Expected<Columns> read_columns(const Table& table, const std::string& file, Problems& left_out) {
    Columns columns;
    Problems problems;
    const auto fault = [&](std::string found, std::string allowed) {
        problems.push_back({file, "headers", std::move(found), std::move(allowed)});
    };
    std::map<std::string, std::string> taken;  // meaning -> header
    const auto take = [&](const std::string& meaning, const std::string& header) {
        const auto [at, is_new] = taken.emplace(meaning, header);
        if (!is_new) {
            fault(fmt::format("both {} and {}", in_quotes(at->second), in_quotes(header)),
                  "one of them: they say the same");
        }
        return is_new;
    };
    for (const std::string& header : table.headers) {
        const auto synonym = synonyms().find(header);
        const std::optional<Length> length = length_named(header);
        const std::optional<Unit> unit = unit_named(header);
        if (header.empty()) {
            continue;
        } else if (synonym != synonyms().end()) {
            if (take(synonym->second, header)) columns.named[synonym->second] = header;
        } else if (holds_value(header)) {
            if (take("value", header)) columns.values.push_back({header, std::nullopt});
        } else if (length) {
            if (!take(length->axis, header)) continue;
            const LengthColumn column{header, length->metres};
            if (length->axis == "height") {
                columns.height = column;
            } else {
                columns.point[static_cast<std::size_t>(length->axis[0] - 'x')] = column;
            }
        } else if (unit) {
            columns.values.push_back({header, unit});
        } else if (header == "x" || header == "y" || header == "z" || header == "height") {
            fault(in_quotes(header) + " without a unit", fmt::format("{0}_cm or {0}_in", header));
        } else if (quantity_lacks_unit(header)) {
            fault(in_quotes(header) + " without a unit", fmt::format("{0}_w_m2 or {0}_uw_cm2", header));
        } else if (const std::string near = nearest(header, known_headers()); !near.empty()) {
            fault("the column " + in_quotes(header), in_quotes(near) + ", if that is meant");
        } else {
            left_out.push_back(
                {file, "headers", "the column " + in_quotes(header),
                 "it is not read; known are date, enclosure, spot, x_cm, y_cm, z_cm, height_cm, "
                 "quantity, value, unit, facing, meter, note"});
        }
    }
    if (columns.values.empty()) {
        fault("no column of values", "value, or one named for what it holds: uvi, lux, uvb_uw_cm2");
    }
    const auto axes =
        std::count_if(columns.point.begin(), columns.point.end(), [](const auto& c) { return c; });
    if (axes != 0 && axes != 3) fault("not all of x, y and z", "all three, such as x_cm, y_cm, z_cm");
    if (axes == 0 && columns.named.count("spot") == 0) {
        fault("no column that says where", "spot, or x_cm, y_cm and z_cm");
    }
    if (problems.empty()) return columns;
    problems.insert(problems.end(), left_out.begin(), left_out.end());  // one of these may be what is missed
    return tl::unexpected(problems);
}

}  // namespace dapple::inference
