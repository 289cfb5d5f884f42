#include "advice/effort.h"

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "scene/fields.h"

namespace dapple::advice {

namespace {

constexpr const char* format = "dapple/effort@1";
constexpr scene::Limits minutes_of_work = {0, 100000, "minutes"};

constexpr std::array<std::pair<const char*, double Effort::*>, 14> fields_of_effort = {{
    {"move_furniture", &Effort::move_furniture},
    {"move_lamp", &Effort::move_lamp},
    {"tilt_lamp", &Effort::tilt_lamp},
    {"swap_lamps", &Effort::swap_lamps},
    {"dim_lamp", &Effort::dim_lamp},
    {"remove_screen", &Effort::remove_screen},
    {"replace_screen", &Effort::replace_screen},
    {"thin_foliage", &Effort::thin_foliage},
    {"renew_lamp", &Effort::renew_lamp},
    {"replace_lamp", &Effort::replace_lamp},
    {"add_lamp", &Effort::add_lamp},
    {"add_shade", &Effort::add_shade},
    {"per_cm", &Effort::per_cm},
    {"per_tenth", &Effort::per_tenth},
}};

}  // namespace

double minutes(const Change& change, const Effort& effort) {
    using Kind = Change::Kind;
    const double moved = effort.per_cm * 100 * change.by.norm();
    const double less = effort.per_tenth * 10 * std::abs(1 - change.factor);
    switch (change.kind) {
        case Kind::move_furniture:
            return effort.move_furniture + moved;
        case Kind::move_lamp:
            return effort.move_lamp + moved;
        case Kind::tilt_lamp:
            return effort.tilt_lamp;
        case Kind::swap_lamps:
            return effort.swap_lamps;
        case Kind::dim_lamp:
            return effort.dim_lamp + less;
        case Kind::remove_screen:
            return effort.remove_screen;
        case Kind::replace_screen:
            return effort.replace_screen;
        case Kind::thin_foliage:
            return effort.thin_foliage + less;
        case Kind::renew_lamp:
            return effort.renew_lamp;
        case Kind::replace_lamp:
            return effort.replace_lamp;
        case Kind::add_lamp:
            return effort.add_lamp;
        case Kind::add_shade:
            return effort.add_shade;
    }
    return 0;
}

double minutes(const std::vector<Change>& changes, const Effort& effort) {
    double sum = 0;
    for (const Change& change : changes) sum += minutes(change, effort);
    return sum;
}

Expected<Effort> parse_effort(std::string_view json, const std::string& file) {
    const auto document = scene::parse_json(json, file);
    if (!document) return tl::unexpected(document.error());
    scene::Faults faults(file);
    scene::Fields fields(*document, "", "an effort document", faults);
    fields.need_word("format", {format});
    Effort effort;
    for (const auto& [name, member] : fields_of_effort) {
        if (const auto value = fields.number(name, minutes_of_work)) effort.*member = *value;
    }
    fields.finish();
    if (!faults.none()) return tl::unexpected(std::move(faults).take());
    return effort;
}

nlohmann::json to_json(const Effort& effort) {
    nlohmann::json document = {{"format", format}};
    for (const auto& [name, member] : fields_of_effort) document[name] = effort.*member;
    return document;
}

}  // namespace dapple::advice
