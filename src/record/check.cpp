// What comes in, field by field.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "inference/life_date.h"
#include "record/kind.h"
#include "record/moment.h"

namespace dapple::record {

namespace {

using nlohmann::json;

// As shown in a message: short, and valid whatever came in.
std::string shown(const json& value) {
    std::string text = value.dump(-1, ' ', true, json::error_handler_t::replace);
    return text.size() > 60 ? text.substr(0, 57) + "..." : text;
}

std::string joined(const std::vector<std::string_view>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

struct Fault {
    std::string allowed;
};
using Value = tl::expected<json, Fault>;
tl::unexpected<Fault> fault(std::string allowed) {
    return tl::unexpected<Fault>({std::move(allowed)});
}

Value as_text(const Field& field, const json& value) {
    if (!field.allowed.empty()) {
        const std::string allowed = "one of " + joined(field.allowed);
        if (!value.is_string()) return fault(allowed);
        for (const std::string_view word : field.allowed) {
            if (value.get_ref<const std::string&>() == word) return value;
        }
        return fault(allowed);
    }
    const std::string allowed = fmt::format("a text of at most {} bytes, without zero bytes", field.longest);
    if (!value.is_string()) return fault(allowed);
    const auto& text = value.get_ref<const std::string&>();
    if (text.size() > field.longest || text.find('\0') != std::string::npos) return fault(allowed);
    return value;
}

Value as_number(const Field& field, const json& value) {
    const std::string allowed =
        fmt::format("a{} number from {:g} to {:g}", field.type == FieldType::integer ? " whole" : "",
                    field.least, field.most);
    if (!value.is_number()) return fault(allowed);
    const double number = value.get<double>();
    if (!std::isfinite(number) || number < field.least || number > field.most) return fault(allowed);
    if (field.type == FieldType::number) return json(number);
    if (number != std::floor(number) || std::abs(number) > 9007199254740992.0) return fault(allowed);
    return json(static_cast<std::int64_t>(number));
}

Value as_day(const json& value) {
    if (value.is_string()) {
        const auto& text = value.get_ref<const std::string&>();
        if (text.size() == 10 && inference::day_of(text)) return value;
    }
    return fault("a day as YYYY-MM-DD");
}

Value as_moment(const json& value) {
    if (value.is_string()) {
        if (const auto moment = moment_of(value.get_ref<const std::string&>())) return json(to_text(*moment));
    }
    return fault("a moment as 2026-03-01T14:30:00Z");
}

Value as_document(const Field& field, const json& value) {
    const std::string allowed = fmt::format("a JSON object of at most {} bytes", field.longest);
    if (!value.is_object()) return fault(allowed);
    const std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
    if (text.size() > field.longest || text.find("\\u0000") != std::string::npos) return fault(allowed);
    return value;
}

Value as_reference(const Field& field, const json& value) {
    if (value.is_string()) {
        const auto& text = value.get_ref<const std::string&>();
        if (text.size() <= 200 && text.find('\0') == std::string::npos) return value;
    }
    return fault(fmt::format("the id of a thing of kind {}", field.of));
}

Value as_field(const Field& field, const json& value) {
    switch (field.type) {
        case FieldType::text:
            return as_text(field, value);
        case FieldType::number:
        case FieldType::integer:
            return as_number(field, value);
        case FieldType::day:
            return as_day(value);
        case FieldType::moment:
            return as_moment(value);
        case FieldType::document:
            return as_document(field, value);
        case FieldType::reference:
            return as_reference(field, value);
    }
    return fault("a field of a known type");
}

// null and the empty text both say "not set".
bool is_unset(const json& value) {
    return value.is_null() || (value.is_string() && value.get_ref<const std::string&>().empty());
}

std::string known_fields(const Kind& kind, const std::string& word) {
    std::vector<std::string> names;
    for (const Field& field : kind.fields) names.emplace_back(field.name);
    const std::string near = nearest(word, names);
    const std::string all = fmt::format("{}", fmt::join(names, ", "));
    return near.empty() ? all : all + " (did you mean " + near + "?)";
}

}  // namespace

Expected<json> checked(const Kind& kind, const json& fields, const std::string& place) {
    const std::string here = place.empty() ? std::string(kind.name) : place;
    if (!fields.is_object())
        return refuse(
            {"", here, shown(fields), "a JSON object with the fields of a " + std::string(kind.name)});
    Problems problems;
    for (const auto& [name, value] : fields.items()) {
        if (kind.field(name) == nullptr)
            problems.push_back(
                {"", fmt::format("{}/{}", place, shown(name)), "an unknown field", known_fields(kind, name)});
    }
    json result = json::object();
    for (const Field& field : kind.fields) {
        const std::string name(field.name);
        const auto found = fields.find(name);
        if (found == fields.end() || is_unset(*found)) {
            if (field.required)
                problems.push_back({"", fmt::format("{}/{}", place, name), "nothing", "it must be given"});
            continue;
        }
        auto value = as_field(field, *found);
        if (value) {
            result[name] = std::move(*value);
        } else {
            problems.push_back({"", fmt::format("{}/{}", place, name), shown(*found), value.error().allowed});
        }
    }
    if (!problems.empty()) return tl::unexpected(std::move(problems));
    return result;
}

}  // namespace dapple::record
