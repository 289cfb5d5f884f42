#include "scene/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace dapple::scene {

namespace {

constexpr std::size_t most_faults = 200;
constexpr std::size_t longest_table = 20000;

bool is_number_within(const Json& value, const Limits& limits) {
    return value.is_number() && limits.hold(value.get<double>());
}

}  // namespace

void Faults::add(const std::string& place, std::string found, std::string allowed) {
    if (problems_.size() == most_faults) {
        problems_.push_back(
            {file_, "", "more faults than are listed here", "a document without these first"});
    }
    if (problems_.size() > most_faults) return;
    problems_.push_back({file_, place, std::move(found), std::move(allowed)});
}

std::string Limits::words() const {
    std::string text = "a number";
    if (!unit.empty()) text += fmt::format(" of {}", unit);
    if (without_least) return text + fmt::format(" above {}, at most {}", least, most);
    return text + fmt::format(" from {} to {}", least, most);
}

std::string either(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
        text += words[i];
    }
    return text;
}

std::string suggestion(const std::string& word, const std::vector<std::string>& known) {
    // No known word is long; a very long one is not worth the comparison.
    std::string close = word.size() < 100 ? nearest(word, known) : "";
    if (close.empty()) {  // a field without its unit
        const auto longer = std::find_if(known.begin(), known.end(), [&](const std::string& candidate) {
            return candidate.starts_with(word + "_");
        });
        if (longer != known.end()) close = *longer;
    }
    if (close.empty()) return either(known);
    std::vector<std::string> others;
    std::copy_if(known.begin(), known.end(), std::back_inserter(others),
                 [&](const std::string& candidate) { return candidate != close; });
    if (others.empty()) return fmt::format("\"{}\"", close);
    return fmt::format("\"{}\", which is nearest, or {}", close, either(others));
}

Fields::Fields(const Json& value, std::string place, std::string what, Faults& faults)
    : value_(value), place_(std::move(place)), what_(std::move(what)), faults_(faults) {
    if (!value.is_object()) faults_.add(place_, quoted(value), "an object: " + what_);
}

bool Fields::has(std::string_view field) const {
    return value_.is_object() && value_.contains(field);
}

const Json* Fields::find(std::string_view field) {
    asked_.emplace_back(field);
    if (!value_.is_object()) return nullptr;
    const auto it = value_.find(field);
    return it == value_.end() ? nullptr : &*it;
}

const Json* Fields::need(std::string_view field, const std::string& allowed) {
    const Json* value = find(field);
    if (value == nullptr && value_.is_object()) {
        faults_.add(place(field), "nothing", allowed + " (required)");
    }
    return value;
}

std::optional<double> Fields::number(std::string_view field, const Limits& limits) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    if (is_number_within(*value, limits)) return value->get<double>();
    faults_.add(place(field), quoted(*value), limits.words());
    return std::nullopt;
}

std::optional<double> Fields::need_number(std::string_view field, const Limits& limits) {
    if (need(field, limits.words()) == nullptr) return std::nullopt;
    return number(field, limits);
}

std::optional<int> Fields::whole(std::string_view field, int least, int most) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    const Limits limits = {static_cast<double>(least), static_cast<double>(most)};
    if (is_number_within(*value, limits) && std::floor(value->get<double>()) == value->get<double>()) {
        return static_cast<int>(value->get<double>());
    }
    faults_.add(place(field), quoted(*value), fmt::format("a whole number from {} to {}", least, most));
    return std::nullopt;
}

std::optional<int> Fields::need_whole(std::string_view field, int least, int most) {
    if (need(field, fmt::format("a whole number from {} to {}", least, most)) == nullptr) return std::nullopt;
    return whole(field, least, most);
}

std::optional<bool> Fields::truth(std::string_view field) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    if (value->is_boolean()) return value->get<bool>();
    faults_.add(place(field), quoted(*value), "true or false");
    return std::nullopt;
}

std::optional<std::string> Fields::text(std::string_view field) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    if (value->is_string() && !value->get_ref<const std::string&>().empty()) return value->get<std::string>();
    faults_.add(place(field), quoted(*value), "a text that is not empty");
    return std::nullopt;
}

std::optional<std::string> Fields::need_text(std::string_view field) {
    if (need(field, "a text that is not empty") == nullptr) return std::nullopt;
    return text(field);
}

std::optional<Vec3> Fields::three(std::string_view field, const Limits& limits) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    const bool fits = value->is_array() && value->size() == 3 &&
                      std::all_of(value->begin(), value->end(),
                                  [&](const Json& number) { return is_number_within(number, limits); });
    if (fits) return Vec3((*value)[0].get<double>(), (*value)[1].get<double>(), (*value)[2].get<double>());
    faults_.add(place(field), quoted(*value), "a list of three, each " + limits.words());
    return std::nullopt;
}

std::optional<Vec3> Fields::need_three(std::string_view field, const Limits& limits) {
    if (need(field, "a list of three, each " + limits.words()) == nullptr) return std::nullopt;
    return three(field, limits);
}

std::optional<std::vector<double>> Fields::numbers(std::string_view field, const Limits& limits) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    if (!value->is_array() || value->size() < 2 || value->size() > longest_table) {
        faults_.add(place(field), quoted(*value),
                    fmt::format("a list of 2 to {} numbers, each {}", longest_table, limits.words()));
        return std::nullopt;
    }
    std::vector<double> result;
    result.reserve(value->size());
    for (std::size_t i = 0; i < value->size(); ++i) {
        const Json& number = (*value)[i];
        if (is_number_within(number, limits)) {
            result.push_back(number.get<double>());
        } else {
            faults_.add(below(place(field), i), quoted(number), limits.words());
        }
    }
    if (result.size() < value->size()) return std::nullopt;
    return result;
}

std::optional<std::string> Fields::word(std::string_view field, const std::vector<std::string>& words) {
    const Json* value = find(field);
    if (value == nullptr) return std::nullopt;
    if (value->is_string()) {
        const auto& word = value->get_ref<const std::string&>();
        if (std::find(words.begin(), words.end(), word) != words.end()) return word;
        faults_.add(place(field), quoted(*value), suggestion(word, words));
    } else {
        faults_.add(place(field), quoted(*value), either(words));
    }
    return std::nullopt;
}

std::optional<std::string> Fields::need_word(std::string_view field, const std::vector<std::string>& words) {
    if (need(field, either(words)) == nullptr) return std::nullopt;
    return word(field, words);
}

std::vector<std::pair<const Json*, std::string>> Fields::list(std::string_view field, std::size_t most) {
    std::vector<std::pair<const Json*, std::string>> elements;
    const Json* value = find(field);
    if (value == nullptr) return elements;
    if (!value->is_array() || value->size() > most) {
        const std::string found =
            value->is_array() ? fmt::format("a list of {}", value->size()) : quoted(*value);
        faults_.add(place(field), found, fmt::format("a list of at most {}", most));
        return elements;
    }
    for (std::size_t i = 0; i < value->size(); ++i) {
        elements.emplace_back(&(*value)[i], below(place(field), i));
    }
    return elements;
}

void Fields::finish() const {
    if (!value_.is_object()) return;
    std::vector<std::string> known = asked_;
    std::sort(known.begin(), known.end());
    known.erase(std::unique(known.begin(), known.end()), known.end());
    for (const auto& [field, value] : value_.items()) {
        if (std::binary_search(known.begin(), known.end(), field)) continue;
        faults_.add(place(field), "the unknown field " + quoted(std::string_view(field)) + " of " + what_,
                    suggestion(field, known));
    }
}

}  // namespace dapple::scene
