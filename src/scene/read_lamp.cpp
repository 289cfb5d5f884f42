// Lamps: their kind and shape, where they hang, what they were measured to give.
#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <numbers>

#include "scene/photometric.h"
#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180;
constexpr Limits beam_deg = {1, 179, "degrees"};
constexpr Limits forward_power = {0, 1000};
constexpr Limits direction = {-1e6, 1e6};
constexpr Limits age = {0.001, 10};
constexpr Limits hours = {0, 24};
constexpr double end_slack = 1e-3;  // m: caps and rounding of a tube's length
constexpr std::size_t most_outputs = 20;

std::optional<Vec3> read_direction(Fields& fields, std::string_view field, const Vec3& otherwise) {
    if (!fields.has(field)) {
        fields.find(field);
        return otherwise;
    }
    auto vector = fields.three(field, direction);
    if (!vector) return std::nullopt;
    if (vector->norm() > 1e-9) return vector;
    fields.faults().add(fields.place(field), "no direction: all three are zero", "a direction [x, y, z]");
    return std::nullopt;
}

struct Directions {
    Vec3 along;
    Vec3 aim;
};

std::optional<Directions> read_directions(Fields& fields) {
    const auto along = read_direction(fields, "along", Vec3::UnitX());
    const auto aim = read_direction(fields, "aim", -Vec3::UnitZ());
    if (!along || !aim) return std::nullopt;
    if (along->normalized().cross(aim->normalized()).norm() < 1e-6) {
        fields.faults().add(fields.place("aim"), "the direction of the lamp's own length",
                            "an aim that is not parallel to \"along\" ([1, 0, 0] where not given)");
        return std::nullopt;
    }
    const auto [straight_along, straight_aim] = straightened(*along, *aim);
    return Directions{straight_along, straight_aim};
}

double read_spread(Fields& fields) {
    constexpr double all_round = -1;
    const Json* value = fields.find("spread");
    if (value == nullptr) return all_round;
    Fields spread(*value, fields.place("spread"), "a spread", fields.faults());
    const auto power = spread.number("forward_power", forward_power);
    const auto round = spread.truth("all_round");
    spread.finish();
    if (value->is_object() && spread.has("forward_power") == spread.has("all_round")) {
        fields.faults().add(spread.place(), quoted(*value),
                            "either {\"all_round\": true} or {\"forward_power\": m}");
    } else if (round && !*round) {
        fields.faults().add(spread.place("all_round"), "false", "true, or \"forward_power\" instead");
    }
    return power.value_or(all_round);
}

std::optional<Photometry> read_photometry(Fields& fields, const Context& context) {
    if (!fields.has("ies") && !fields.has("ies_file")) {
        fields.find("ies");
        fields.find("ies_file");
        return std::nullopt;
    }
    if (fields.has("beam_deg")) {
        fields.faults().add(fields.place("beam_deg"), "a beam beside a photometric file",
                            "one of them: the file replaces the beam");
    }
    const auto attachment = read_attachment(fields, "ies", "ies_file", context);
    if (!attachment) return std::nullopt;
    auto table = parse_ies(attachment->text, "");
    if (table) return *std::move(table);
    add_all(table.error(), *attachment, fields.faults());
    return std::nullopt;
}

std::optional<std::variant<Tube, Spot, Bar>> read_shape(Fields& fields, const std::string& kind,
                                                        const Context& context) {
    if (kind == "tube" || kind == "coil") {
        const bool coil = kind == "coil";
        const auto length = fields.need_number("length_cm", size_cm);
        const double diameter = fields.number("diameter_cm", size_cm)
                                    .value_or(coil ? default_coil_diameter_cm : default_tube_diameter_cm);
        const auto directions = read_directions(fields);
        const double spread = coil ? -1 : read_spread(fields);
        if (!length || !directions) return std::nullopt;
        return Tube{
            *length * m_per_cm, diameter * m_per_cm, directions->along, directions->aim, spread, coil};
    }
    const double beam = fields.number("beam_deg", beam_deg).value_or(default_beam_deg) * rad_per_deg;
    auto photometry = read_photometry(fields, context);
    if (kind == "spot") {
        const double diameter = fields.number("diameter_cm", any_size_cm).value_or(0);
        const auto aim = read_direction(fields, "aim", -Vec3::UnitZ());
        if (!aim) return std::nullopt;
        return Spot{diameter * m_per_cm, beam_exponent(beam), beam, aim->normalized(), std::move(photometry)};
    }
    const auto length = fields.need_number("length_cm", size_cm);
    const auto count = fields.need_whole("count", 1, 1000);
    const auto directions = read_directions(fields);
    if (!length || !count || !directions) return std::nullopt;
    return Bar{*length * m_per_cm, *count,          beam_exponent(beam),  beam,
               directions->along,  directions->aim, std::move(photometry)};
}

std::optional<Output> read_output(const Json& value, const std::string& place, Faults& faults) {
    Fields fields(value, place, "an output", faults);
    const auto distance = fields.need_number("at_cm", size_cm);
    std::optional<Output> output;
    int given = 0;
    for (const auto& [field, quantity] :
         {std::pair("uvi", spectrum::Quantity::uvi), std::pair("lux", spectrum::Quantity::lux),
          std::pair("irradiance_w_m2", spectrum::Quantity::irradiance)}) {
        if (fields.has(field)) ++given;
        const auto strength = fields.number(field, positive);
        if (strength && distance) output = Output{quantity, *strength, *distance * m_per_cm};
    }
    fields.finish();
    if (value.is_object() && given != 1) {
        faults.add(place, quoted(value), "one of uvi, lux or irradiance_w_m2 at a distance at_cm");
        return std::nullopt;
    }
    return output;
}

std::vector<Output> read_outputs(Fields& fields) {
    std::vector<Output> outputs;
    const auto keep = [&](const Json& value, const std::string& place) {
        if (const auto output = read_output(value, place, fields.faults())) outputs.push_back(*output);
    };
    const Json* value = fields.find("output");
    if (value == nullptr) return outputs;
    if (value->is_array()) {
        for (const auto& [element, place] : fields.list("output", most_outputs)) keep(*element, place);
    } else {
        keep(*value, fields.place("output"));
    }
    return outputs;
}

std::string read_date(Fields& fields, std::string_view field) {
    const auto text = fields.text(field);
    if (!text) return "";
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    bool digits = text->size() == 10 && (*text)[4] == '-' && (*text)[7] == '-';
    for (std::size_t i = 0; digits && i < text->size(); ++i) {
        if (i == 4 || i == 7) continue;
        digits = (*text)[i] >= '0' && (*text)[i] <= '9';
    }
    if (digits) {
        year = std::stoi(text->substr(0, 4));
        month = static_cast<unsigned>(std::stoi(text->substr(5, 2)));
        day = static_cast<unsigned>(std::stoi(text->substr(8, 2)));
        const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                               std::chrono::day(day)};
        if (date.ok()) return *text;
    }
    fields.faults().add(fields.place(field), quoted(std::string_view(*text)),
                        "a date of the calendar, YYYY-MM-DD (ISO 8601)");
    return "";
}

std::optional<HeatKind> read_heat_kind(Fields& fields) {
    std::vector<std::string> words;
    for (const HeatKind kind : heat_kinds) words.emplace_back(name(kind));
    const auto word = fields.word("heat_kind", words);
    for (const HeatKind kind : heat_kinds) {
        if (word && *word == name(kind)) return kind;
    }
    return std::nullopt;
}

bool above_the_open_top(const Vec3& point, const Context& context) {
    const Vec3& size = context.size;
    return context.open_top && point.z() > size.z() && point.x() >= -end_slack && point.y() >= -end_slack &&
           point.x() <= size.x() + end_slack && point.y() <= size.y() + end_slack;
}

// A lamp inside the box lies inside with both its ends; one above an open top may overhang.
void check_position(const Vec3& centre, const Vec3& half_length, Fields& fields, const Context& context) {
    if (context.size.isZero() || above_the_open_top(centre, context)) return;
    const Box box{Vec3::Zero(), context.size};
    if (!box.contains(centre, 1e-9)) {
        if (centre.z() > context.size.z() && !context.open_top) {
            fields.faults().add(fields.place("centre_cm"), "a lamp above a closed top",
                                fmt::format("z 0 to {:g} cm, or \"top\": \"open\" in \"walls\"",
                                            context.size.z() / m_per_cm));
            return;
        }
        must_lie_inside(centre, fields.place("centre_cm"), context, fields.faults());
        return;
    }
    for (const Vec3& end : {Vec3(centre - half_length), Vec3(centre + half_length)}) {
        if (box.contains(end, end_slack) || above_the_open_top(end, context)) continue;
        const Vec3 cm = end / m_per_cm;
        fields.faults().add(fields.place("length_cm"),
                            fmt::format("a lamp that ends outside the box, at [{:.5g}, {:.5g}, {:.5g}] cm",
                                        cm.x(), cm.y(), cm.z()),
                            "a length that fits");
        return;
    }
}

Vec3 half_length_of(const std::variant<Tube, Spot, Bar>& shape) {
    if (const auto* tube = std::get_if<Tube>(&shape)) return 0.5 * tube->length * tube->along;
    if (const auto* bar = std::get_if<Bar>(&shape)) return 0.5 * bar->length * bar->along;
    return Vec3::Zero();
}

}  // namespace

double beam_exponent(double beam_rad) {
    return std::log(0.5) / std::log(std::cos(0.5 * beam_rad));
}

std::pair<Vec3, Vec3> straightened(const Vec3& along, const Vec3& aim) {
    const Vec3 a = along.normalized();
    const Vec3 unit = aim.normalized();
    return {a, (unit - unit.dot(a) * a).normalized()};
}

std::optional<Lamp> read_lamp(const Json& value, const std::string& place, const Context& context,
                              Faults& faults) {
    Fields fields(value, place, "a lamp", faults);
    const auto id = read_id(fields);
    const auto kind = fields.need_word("kind", {"tube", "spot", "coil", "bar"});
    const auto centre = fields.need_three("centre_cm", any_cm);
    Lamp lamp;
    lamp.id = id.value_or("");
    lamp.name = fields.text("name").value_or(lamp.id);
    lamp.output = read_outputs(fields);
    lamp.power_w = fields.number("power_w", {0, 10000, "W"}).value_or(0);
    lamp.hours_on = fields.number("hours_on", hours).value_or(12);
    lamp.installed = read_date(fields, "installed");
    lamp.age_factor = fields.number("age_factor", age).value_or(1);
    lamp.heat_kind = read_heat_kind(fields);
    lamp.thermostat_c = fields.number("thermostat_c", {0, 100, "degrees Celsius"});
    const Json named = kind ? Json(default_spectrum(*kind)) : Json();
    const Json* given = fields.find("spectrum");
    if (given != nullptr || kind) {
        if (auto light =
                read_spectrum(given != nullptr ? *given : named, fields.place("spectrum"), context, faults)) {
            lamp.spectrum = *std::move(light);
        }
    }
    if (!kind) return std::nullopt;  // which further fields it has depends on the kind
    auto shape = read_shape(fields, *kind, context);
    fields.finish();
    if (!centre || !shape) return std::nullopt;
    lamp.centre = *centre * m_per_cm;
    lamp.shape = *std::move(shape);
    check_position(lamp.centre, half_length_of(lamp.shape), fields, context);
    return lamp;
}

}  // namespace dapple::scene
