#include "inference/life_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include "inference/readings_cells.h"
#include "inference/readings_table.h"

namespace dapple::inference {

namespace {

struct Synonym {
    std::string_view header;
    std::string_view field;
};

// Fields with an empty name are other tables' and understood to say nothing of a lamp's life.
constexpr Synonym synonyms[] = {{"date", "date"},
                                {"day", "date"},
                                {"enclosure", "enclosure"},
                                {"enclosure_id", "enclosure"},
                                {"lamp", "lamp"},
                                {"lamp_id", "lamp"},
                                {"bulb", "lamp"},
                                {"spot", "spot"},
                                {"spot_id", "spot"},
                                {"place", "spot"},
                                {"quantity", "quantity"},
                                {"value", "value"},
                                {"reading", "value"},
                                {"hours", "hours"},
                                {"hour", "hours"},
                                {"h", "hours"},
                                {"burned_hours", "hours"},
                                {"lamp_hours", "hours"},
                                {"hours_burned", "hours"},
                                {"time", ""},
                                {"facing", ""},
                                {"meter", ""},
                                {"note", ""},
                                {"notes", ""}};

// Above this no lamp for animals reads (our judgement, as in readings.h); and no lamp burns for a century.
constexpr double highest_uvi = 1000;
constexpr double most_hours = 876600;

class Reader {
  public:
    explicit Reader(const LifeReadingOptions& options) : options_(options) {}

    Expected<std::vector<LifeReading>> read(const Table& table) {
        read_headers(table);
        if (!problems_.empty()) return tl::unexpected(problems_);
        if (table.rows.empty()) fault("", "headers and no reading", "one reading a line");
        for (const Row& row : table.rows) read_row(row);
        if (!problems_.empty()) return tl::unexpected(problems_);
        return std::move(readings_);
    }

  private:
    void fault(const std::string& place, std::string found, std::string allowed) {
        problems_.push_back({options_.file, place, std::move(found), std::move(allowed)});
    }

    void read_headers(const Table& table) {
        for (const std::string& header : table.headers) {
            if (header.empty()) continue;
            std::string field;
            const auto* known = std::find_if(std::begin(synonyms), std::end(synonyms),
                                             [&](const Synonym& s) { return s.header == header; });
            if (known != std::end(synonyms)) {
                field = known->field;
            } else if (const auto unit = unit_named(header); unit && unit->quantity) {
                field = "value";
                value_unit_ = unit;
            } else {
                fault("headers", in_quotes(header), headers_like(header));
                continue;
            }
            if (!field.empty() && !header_of_.emplace(field, header).second) {
                fault("headers", fmt::format("{} and {}", in_quotes(header_of_[field]), in_quotes(header)),
                      "one column for the " + field);
            }
        }
        for (const char* needed : {"lamp", "value"}) {
            if (!header_of_.contains(needed)) {
                fault("headers", fmt::format("no column {}", needed), "date, lamp, spot, value, hours");
            }
        }
        if (!header_of_.contains("date") && !header_of_.contains("hours")) {
            fault("headers", "neither a column date nor hours", "date, or the hours the lamp had burned");
        }
    }

    static std::string headers_like(const std::string& header) {
        std::vector<std::string> words = {"uvi", "lux"};
        for (const Synonym& s : synonyms) words.emplace_back(s.header);
        const std::string near = nearest(header, words);
        const std::string all = "date, enclosure, lamp, spot, quantity, value, hours, note";
        return near.empty() ? all : fmt::format("{}, perhaps; or another of {}", in_quotes(near), all);
    }

    std::string cell(const Row& row, const std::string& field) const {
        const auto header = header_of_.find(field);
        if (header == header_of_.end()) return {};
        const auto found = row.cells.find(header->second);
        return found == row.cells.end() ? std::string() : found->second;
    }

    void read_row(const Row& row) {
        LifeReading reading;
        reading.place = row.place;
        reading.enclosure = cell(row, "enclosure");
        reading.lamp = cell(row, "lamp");
        reading.spot = cell(row, "spot");
        if (reading.lamp.empty()) fault(row.place, "no lamp", "the id of the lamp that was read");
        read_when(row, reading);
        read_value(row, reading);
        readings_.push_back(std::move(reading));
    }

    void read_when(const Row& row, LifeReading& reading) {
        const std::string date = cell(row, "date");
        const std::string hours = cell(row, "hours");
        if (!date.empty()) {
            const auto understood = read_date(date);
            if (understood) reading.day = day_of(understood->substr(0, 10));
            if (!reading.day) {
                fault(row.place, in_quotes(date), "a date as YYYY-MM-DD");
            } else if (options_.today && *reading.day > *options_.today) {
                fault(row.place, "the future date " + in_quotes(date),
                      "dates until today, " + to_text(*options_.today));
            }
        }
        if (!hours.empty()) {
            const auto number = read_number_cell(hours);
            if (!number || !(number->unit.empty() || number->unit == "h") || number->number < 0 ||
                number->number > most_hours) {
                fault(row.place, in_quotes(hours) + " hours",
                      fmt::format("hours burned, 0 to {:g}", most_hours));
            } else {
                reading.hours = number->number;
            }
        }
        if (date.empty() && hours.empty()) {
            fault(row.place, "neither date nor hours", "a date, or the hours the lamp had burned");
        }
    }

    // The unit a row's numbers are in: of its quantity, of the column, else UVI. Nothing: it was refused.
    std::optional<Unit> unit_of(const Row& row) {
        const std::string written = cell(row, "quantity");
        if (written.empty()) return value_unit_ ? value_unit_ : unit_named("uvi");
        const auto unit = unit_named(normalised(written));
        if (!unit || !unit->quantity) {
            fault(row.place, "the quantity " + in_quotes(written),
                  "uvi, lux, or a quantity with its unit such as uvb_uw_cm2");
            return std::nullopt;
        }
        if (value_unit_ && (value_unit_->quantity != unit->quantity || value_unit_->factor != unit->factor)) {
            fault(row.place,
                  fmt::format("the quantity {} in the column {}", in_quotes(written), header_of_["value"]),
                  "the column's own quantity, or a column named value");
            return std::nullopt;
        }
        return unit;
    }

    void read_value(const Row& row, LifeReading& reading) {
        const auto unit = unit_of(row);
        if (!unit) return;
        const std::string text = cell(row, "value");
        const auto number = read_number_cell(text);
        if (!number) {
            fault(row.place, number.error().front().found, number.error().front().allowed);
            return;
        }
        if (!number->unit.empty() && !agrees(number->unit, *unit)) {
            fault(row.place, in_quotes(text) + " where another unit is announced", "the unit of the column");
            return;
        }
        reading.quantity = *unit->quantity;
        reading.value = number->number * unit->factor;
        const bool uvi = reading.quantity == spectrum::Quantity::uvi;
        if (reading.value < 0 || (!uvi && reading.value == 0) || (uvi && reading.value > highest_uvi)) {
            fault(row.place, in_quotes(text),
                  uvi ? fmt::format("a UVI from 0 to {:g}; another quantity needs the column quantity",
                                    highest_uvi)
                      : std::string("a number above zero"));
        }
    }

    LifeReadingOptions options_;
    std::map<std::string, std::string> header_of_;  // by field
    std::optional<Unit> value_unit_;                // where the column is named for it
    std::vector<LifeReading> readings_;
    Problems problems_;
};

}  // namespace

Expected<std::vector<LifeReading>> parse_life_readings(std::string_view text,
                                                       const LifeReadingOptions& options) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const auto first = text.find_first_not_of(" \t\r\n");
    const bool json = first != std::string_view::npos && (text[first] == '[' || text[first] == '{');
    const auto table = json ? read_json(text, options.file) : read_csv(text, options.file);
    if (!table) return tl::unexpected(table.error());
    return Reader(options).read(*table);
}

}  // namespace dapple::inference
