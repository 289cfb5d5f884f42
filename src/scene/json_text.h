// JSON text from outside, made safe to read: any bytes are either a value or a list of problems.
//
// Refused beyond plain syntax errors: a field given twice (one of the two would be silently lost), nesting
// deeper than any document of ours, numbers no double can hold, and objects of absurdly many fields.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "problem/problem.h"

namespace dapple::scene {

using Json = nlohmann::ordered_json;  // keeps the order in which a person wrote the fields

inline constexpr std::size_t deepest_nesting = 32;
inline constexpr std::size_t most_fields = 1000;

Expected<Json> parse_json(std::string_view text, const std::string& file);

// A value as it is quoted in messages: one line, at most about 60 bytes, always valid UTF-8.
std::string quoted(const Json& value);
std::string quoted(std::string_view text);

// The JSON pointer (RFC 6901) of a field or an element below a place.
std::string below(const std::string& place, std::string_view field);
std::string below(const std::string& place, std::size_t index);

}  // namespace dapple::scene
