#include "inference/readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "husbandry/verdict.h"
#include "inference/readings_columns.h"
#include "inference/readings_repeats.h"

namespace dapple::inference {

namespace {

using scene::Vec3;

// Above this no lamp for animals reads: somebody wrote another quantity (our judgement).
constexpr double highest_uvi = 1000;

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

// Reads rows one after another, and keeps what is wrong with them.
class Reader {
  public:
    Reader(const scene::Enclosure& enclosure, const ReadingOptions& options,
           std::vector<husbandry::AnimalJudgement> animals)
        : enclosure_(enclosure), options_(options), animals_(std::move(animals)) {}

    Expected<Readings> read(const Table& table) {
        Expected<Columns> columns = read_columns(table, options_.file, readings_.left_out);
        if (!columns) return tl::unexpected(columns.error());
        columns_ = std::move(*columns);
        for (const Row& row : table.rows) read_row(row);
        if (!problems_.empty()) return tl::unexpected(problems_);
        if (readings_.sets.empty()) return refuse(nothing_left());
        for (Reading& set : readings_.sets) {
            const Repeats repeats = summarise(set.values);
            set.value = repeats.value;
            set.scatter = repeats.scatter;
        }
        return std::move(readings_);
    }

  private:
    void fault(const Row& row, std::string found, std::string allowed) {
        problems_.push_back({options_.file, row.place, std::move(found), std::move(allowed)});
    }

    Problem nothing_left() const {
        if (!readings_.left_out.empty() && others_ > 0) {
            return {options_.file, "",
                    fmt::format("{} reading{}, none of enclosure {}", others_, others_ == 1 ? "" : "s",
                                in_quotes(enclosure_.id)),
                    "at least one reading of this enclosure"};
        }
        return {options_.file, "", "headers and no reading", "one reading a line"};
    }

    // Whether the row is of this enclosure.
    bool is_ours(const Row& row) {
        const std::string named = columns_.cell(row, "enclosure");
        if (named.empty() || named == enclosure_.id || lower(named) == lower(enclosure_.name)) return true;
        if (lower(named) == lower(enclosure_.id)) return true;
        ++others_;
        readings_.left_out.push_back({options_.file, row.place, "a reading of enclosure " + in_quotes(named),
                                      "readings of " + in_quotes(enclosure_.id)});
        return false;
    }

    bool read_date_of(const Row& row, Reading& reading) {
        std::string text = columns_.cell(row, "date");
        const std::string time = columns_.cell(row, "time");
        if (!text.empty() && !time.empty()) text += "T" + time;
        if (text.empty()) return true;
        const std::optional<std::string> date = read_date(text);
        if (!date) {
            fault(row, in_quotes(text), "a date as YYYY-MM-DD, with a time as YYYY-MM-DDThh:mm or without");
            return false;
        }
        reading.date = *date;
        if (!options_.today.empty() && date->substr(0, 10) > options_.today) {
            fault(row, "the future date " + in_quotes(*date), "dates until today, " + options_.today);
            return false;
        }
        return true;
    }

    const scene::Place* spot_named(const std::string& name) const {
        for (const scene::Place& spot : enclosure_.spots) {
            if (spot.id == name) return &spot;
        }
        for (const scene::Place& spot : enclosure_.spots) {
            if (lower(spot.id) == lower(name) || lower(spot.name) == lower(name)) return &spot;
        }
        return nullptr;
    }

    std::string spots_like(const std::string& name) const {
        std::vector<std::string> ids, words;
        for (const scene::Place& spot : enclosure_.spots) {
            ids.push_back(spot.id);
            words.push_back(spot.id);
            words.push_back(spot.name);
        }
        if (ids.empty()) return "x_cm, y_cm and z_cm: the enclosure has no spots";
        const std::string near = nearest(name, words);
        return near.empty() ? fmt::format("one of {}", fmt::join(ids, ", "))
                            : fmt::format("{}, or another of {}", in_quotes(near), fmt::join(ids, ", "));
    }

    // A length in metres; nothing where the cell is empty. False: it is no number.
    bool read_length(const Row& row, const std::optional<LengthColumn>& column,
                     std::optional<double>& length) {
        if (!column) return true;
        const auto cell = row.cells.find(column->header);
        if (cell == row.cells.end() || cell->second.empty()) return true;
        const Expected<NumberCell> number = read_number_cell(cell->second);
        if (!number || !number->unit.empty()) {
            fault(row, fmt::format("{} as {}", in_quotes(cell->second), column->header), "a number");
            return false;
        }
        length = number->number * column->metres;
        return true;
    }

    bool read_place(const Row& row, Reading& reading) {
        std::optional<double> x, y, z, height;
        if (!read_length(row, columns_.point[0], x) || !read_length(row, columns_.point[1], y) ||
            !read_length(row, columns_.point[2], z) || !read_length(row, columns_.height, height)) {
            return false;
        }
        const std::string name = columns_.cell(row, "spot");
        const bool has_point = x || y || z;
        if (name.empty() == !has_point || (has_point && !(x && y && z))) {
            fault(row, name.empty() ? has_point ? "not all of x, y and z" : "no place" : "a spot and a point",
                  "either a spot, or x, y and z");
            return false;
        }
        if (has_point) {
            reading.point = Vec3(*x, *y, *z + height.value_or(0));
        } else {
            const scene::Place* spot = spot_named(name);
            if (spot == nullptr) {
                fault(row, "the spot " + in_quotes(name), spots_like(name));
                return false;
            }
            reading.spot = spot->id;
            reading.point = height ? Vec3(spot->position + Vec3(0, 0, *height))
                                   : husbandry::reading_point(*spot, animals_);
        }
        constexpr double rounding = 1e-9;
        if ((reading.point.array() < -rounding).any() ||
            ((reading.point - enclosure_.size).array() > rounding).any()) {
            const Vec3 size = 100 * enclosure_.size;
            fault(row,
                  fmt::format("a place outside the box ({:g}, {:g}, {:g} cm)", 100 * reading.point.x(),
                              100 * reading.point.y(), 100 * reading.point.z()),
                  fmt::format("x 0 to {:g}, y 0 to {:g}, z 0 to {:g} cm", size.x(), size.y(), size.z()));
            return false;
        }
        return true;
    }

    bool read_facing(const Row& row, Reading& reading) {
        const std::string text = lower(columns_.cell(row, "facing"));
        if (text.empty()) return true;
        const auto facing = light::parse_facing(text == "horizontal" ? "up" : text);
        if (!facing) {
            fault(row, in_quotes(text) + " as facing",
                  "aimed, up (or horizontal), back, or a direction \"nx,ny,nz\"");
            return false;
        }
        reading.facing = *facing;
        return true;
    }

    // The unit of a row whose value column does not name one.
    std::optional<Unit> unit_of(const Row& row) {
        const std::string quantity = normalised(columns_.cell(row, "quantity"));
        const std::string unit = normalised(columns_.cell(row, "unit"));
        if (quantity.empty() && unit.empty()) return Unit{spectrum::Quantity::uvi};
        const std::optional<Unit> by_quantity = unit_named(quantity);
        if (by_quantity && (unit.empty() || agrees(unit, *by_quantity))) return by_quantity;
        const std::optional<Unit> joined = unit_named(quantity.empty() ? unit : quantity + "_" + unit);
        // A named quantity (lux, temperature) may still come in a multiple of its unit (klx) or another scale (F).
        const std::optional<Unit> alone = unit_named(unit);
        if (joined) return joined;
        if (by_quantity && alone && by_quantity->quantity == alone->quantity && by_quantity->factor == 1 &&
            by_quantity->offset == 0) {
            return alone;
        }
        if (quantity_lacks_unit(quantity) && unit.empty()) {
            fault(row, in_quotes(quantity) + " without a unit",
                  quantity + "_w_m2 or " + quantity + "_uw_cm2");
        } else if (by_quantity) {
            fault(row, fmt::format("{} in {}", in_quotes(quantity), in_quotes(unit)),
                  "a unit of the quantity, or no unit");
        } else {
            fault(row, in_quotes(quantity.empty() ? unit : quantity) + " as quantity",
                  "uvi, lux, uvb_w_m2, uva_w_m2, irradiance_w_m2, temperature_c, or uw_cm2 in place of w_m2");
        }
        return std::nullopt;
    }

    void read_value(const Row& row, Reading reading, const std::string& text, const Unit& unit) {
        const Expected<NumberCell> cell = read_number_cell(text);
        if (!cell) {
            fault(row, cell.error().front().found, cell.error().front().allowed);
            return;
        }
        if (!cell->unit.empty() && !agrees(cell->unit, unit)) {
            fault(row, in_quotes(text) + " where another unit is named", "one unit for a value");
            return;
        }
        const double value = cell->number * unit.factor + unit.offset;
        if (unit.quantity && value < 0) {
            fault(row, in_quotes(text), "0 or more: light is never negative");
            return;
        }
        if (unit.quantity == spectrum::Quantity::uvi && value > highest_uvi) {
            fault(row, in_quotes(text) + " as UVI", "a UV index; brightness is written as lux");
            return;
        }
        reading.quantity = unit.quantity;
        reading.values = {value};
        file_away(row, std::move(reading));
    }

    void read_row(const Row& row) {
        if (!is_ours(row)) return;
        Reading reading;
        reading.meter = columns_.cell(row, "meter");
        reading.note = columns_.cell(row, "note");
        // All three are read, so that a line's faults are told at once.
        const bool has_date = read_date_of(row, reading);
        const bool has_place = read_place(row, reading);
        const bool has_facing = read_facing(row, reading);
        if (!has_date || !has_place || !has_facing) return;

        const auto [first, is_new] = lines_.emplace(row.cells, row.place);
        if (!is_new) {
            readings_.left_out.push_back({options_.file, row.place,
                                          "the same as " + first->second + " in every cell",
                                          "each reading once; give the time of day if it was read again"});
            return;
        }
        bool any = false;
        for (const ValueColumn& column : columns_.values) {
            const auto cell = row.cells.find(column.header);
            if (cell == row.cells.end() || cell->second.empty()) continue;
            any = true;
            const std::optional<Unit> unit = column.unit ? column.unit : unit_of(row);
            if (unit) read_value(row, reading, cell->second, *unit);
        }
        if (!any) fault(row, "no value", "a number in at least one column of values");
    }

    // Joins the reading to those of its place, time, quantity, facing and meter.
    void file_away(const Row& row, Reading reading) {
        const auto key =
            std::make_tuple(reading.date, reading.point.x(), reading.point.y(), reading.point.z(),
                            reading.quantity, light::to_text(reading.facing), reading.meter);
        const auto [at, is_new] = sets_.emplace(key, readings_.sets.size());
        if (is_new) {
            reading.where = row.place;
            readings_.sets.push_back(std::move(reading));
            return;
        }
        Reading& set = readings_.sets[at->second];
        set.values.push_back(reading.values.front());
        set.where += ", " + row.place;
        if (!reading.note.empty() && set.note != reading.note) {
            set.note += (set.note.empty() ? "" : "; ") + reading.note;
        }
    }

    const scene::Enclosure& enclosure_;
    const ReadingOptions& options_;
    std::vector<husbandry::AnimalJudgement> animals_;
    Columns columns_;
    Readings readings_;
    Problems problems_;
    std::size_t others_ = 0;
    std::map<std::map<std::string, std::string>, std::string> lines_;
    std::map<std::tuple<std::string, double, double, double, std::optional<spectrum::Quantity>, std::string,
                        std::string>,
             std::size_t>
        sets_;
};

}  // namespace

Expected<Readings> parse_readings(std::string_view text, const scene::Enclosure& enclosure,
                                  const ReadingOptions& options) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const std::size_t begin = text.find_first_not_of(" \t\r\n");
    if (begin == std::string_view::npos) {
        return refuse({options.file, "", "nothing", "readings: a line of headers, then one reading a line"});
    }
    Expected<std::vector<husbandry::AnimalJudgement>> animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    const bool is_json = text[begin] == '{' || text[begin] == '[';
    const Expected<Table> table = is_json ? read_json(text, options.file) : read_csv(text, options.file);
    if (!table) return tl::unexpected(table.error());
    if (table->rows.empty()) {
        return refuse({options.file, "", "headers and no reading", "one reading a line"});
    }
    return Reader(enclosure, options, std::move(*animals)).read(*table);
}

std::string in_words(const Reading& reading, const scene::Enclosure& enclosure) {
    std::string place = fmt::format("{:g}, {:g}, {:g} cm", 100 * reading.point.x(), 100 * reading.point.y(),
                                    100 * reading.point.z());
    for (const scene::Place& spot : enclosure.spots) {
        if (spot.id == reading.spot) place = spot.name.empty() ? spot.id : spot.name;
    }
    const std::string when = reading.date.empty() ? "" : " on " + reading.date.substr(0, 10);
    return fmt::format("{}{} ({})", place, when, reading.where);
}

}  // namespace dapple::inference
