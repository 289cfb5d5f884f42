#include "inference/readings_cells.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <regex>

#include "inference/readings_table.h"

namespace dapple::inference {

namespace {

using spectrum::Quantity;

struct NamedUnit {
    std::string_view name;
    Unit unit;
};

constexpr double per_uw_cm2 = 0.01;  // 1 uW/cm2 = 0.01 W/m2
constexpr double per_mw_cm2 = 10;    // 1 mW/cm2 = 10 W/m2

const std::array plain_units = {
    NamedUnit{"uvi", {Quantity::uvi}},
    NamedUnit{"uv_index", {Quantity::uvi}},
    NamedUnit{"lux", {Quantity::lux}},
    NamedUnit{"lx", {Quantity::lux}},
    NamedUnit{"klx", {Quantity::lux, 1000}},
    NamedUnit{"illuminance", {Quantity::lux}},
    NamedUnit{"illuminance_lux", {Quantity::lux}},
    NamedUnit{"illuminance_lx", {Quantity::lux}},
    NamedUnit{"temperature", {std::nullopt}},
    NamedUnit{"temperature_c", {std::nullopt}},
    NamedUnit{"temp_c", {std::nullopt}},
    NamedUnit{"c", {std::nullopt}},
    NamedUnit{"temperature_f", {std::nullopt, 5.0 / 9, -160.0 / 9}},
    NamedUnit{"temp_f", {std::nullopt, 5.0 / 9, -160.0 / 9}},
    NamedUnit{"f", {std::nullopt, 5.0 / 9, -160.0 / 9}},
};

struct NamedQuantity {
    std::string_view name;
    Quantity quantity;
};
const std::array radiometric = {
    NamedQuantity{"erythemal", Quantity::erythemal},
    NamedQuantity{"d3", Quantity::d3},
    NamedQuantity{"actinic", Quantity::actinic},
    NamedQuantity{"uvc", Quantity::uvc},
    NamedQuantity{"uvb", Quantity::uvb},
    NamedQuantity{"uva", Quantity::uva},
    NamedQuantity{"irradiance", Quantity::irradiance},
};

struct NamedFactor {
    std::string_view name;
    double factor;
};
const std::array irradiance_units = {NamedFactor{"w_m2", 1}, NamedFactor{"uw_cm2", per_uw_cm2},
                                     NamedFactor{"mw_cm2", per_mw_cm2}, NamedFactor{"mw_m2", 1e-3}};

bool could_be_thousands(std::string_view number) {
    const std::size_t comma = number.find(',');
    return comma != std::string_view::npos && number.size() - comma == 4 && !number.starts_with("0,");
}

}  // namespace

std::optional<Unit> unit_named(const std::string& name) {
    for (const NamedUnit& known : plain_units) {
        if (name == known.name) return known.unit;
    }
    for (const NamedQuantity& known : radiometric) {
        for (const NamedFactor& unit : irradiance_units) {
            if (name == std::string(known.name) + "_" + std::string(unit.name)) {
                return Unit{known.quantity, unit.factor};
            }
        }
    }
    return std::nullopt;
}

bool quantity_lacks_unit(const std::string& name) {
    return std::any_of(radiometric.begin(), radiometric.end(),
                       [&](const NamedQuantity& known) { return name == known.name; });
}

Expected<NumberCell> read_number_cell(const std::string& text) {
    static constexpr const char* allowed = "a number such as 3.1 or 3,1, with its unit after it or without";
    std::size_t end = 0;
    while (end < text.size() &&
           std::string_view("+-0123456789.,eE").find(text[end]) != std::string_view::npos) {
        ++end;
    }
    std::string number = text.substr(0, end);
    const std::string unit = normalised(std::string_view(text).substr(end));
    if (could_be_thousands(number)) {
        return refuse({"", "", in_quotes(text),
                       "a number whose comma can only be read in one way: 3.125 or 3125, not 3,125"});
    }
    std::replace(number.begin(), number.end(), ',', '.');
    const char* begin = number.data() + (number.starts_with('+') ? 1 : 0);
    const char* stop = number.data() + number.size();
    double value = 0;
    const auto [last, error] = std::from_chars(begin, stop, value);
    if (error != std::errc{} || last != stop || !std::isfinite(value)) {
        return refuse({"", "", text.empty() ? "nothing" : in_quotes(text), allowed});
    }
    return NumberCell{value, unit};
}

bool agrees(const std::string& written, const Unit& unit) {
    if (const std::optional<Unit> named = unit_named(written)) {
        return named->quantity == unit.quantity && named->factor == unit.factor &&
               named->offset == unit.offset;
    }
    if (unit.quantity == Quantity::uvi || unit.quantity == Quantity::lux || !unit.quantity) return false;
    return std::any_of(irradiance_units.begin(), irradiance_units.end(), [&](const NamedFactor& known) {
        return written == known.name && unit.factor == known.factor;
    });
}

std::optional<std::string> read_date(const std::string& text) {
    static const std::regex form(
        R"((\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:?\d{2})?)?)");
    std::smatch part;
    if (text.size() > 40 || !std::regex_match(text, part, form)) return std::nullopt;
    const auto number = [&](std::size_t i) { return part[i].matched ? std::stoi(part[i].str()) : 0; };
    const std::chrono::year_month_day day{std::chrono::year(number(1)),
                                          std::chrono::month(static_cast<unsigned>(number(2))),
                                          std::chrono::day(static_cast<unsigned>(number(3)))};
    if (!day.ok() || number(4) > 24 || number(5) > 59 || number(6) > 60) return std::nullopt;
    std::string date = text;
    if (date.size() > 10) date[10] = 'T';
    return date;
}

}  // namespace dapple::inference
