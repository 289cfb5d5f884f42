// What every calculation is asked with, read out of the request: enclosure, readings, points, quantity, facing.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "inference/fit.h"
#include "light/field.h"
#include "server/route.h"
#include "spectrum/quantity.h"

namespace dapple::server {

struct Question {  // NOLINT(bugprone-exception-escape): JSON moves without throwing but for a lack of memory
    nlohmann::json object;
    scene::Enclosure enclosure;
    std::string site;  // of the enclosure in the record, where it is there and may be seen; else empty
};

// The enclosure of the body, and the rest of its fields; or the refusal.
tl::expected<Question, Response> read_question(const Asked& asked, const std::vector<std::string>& fields);

// `readings` of the body: nothing there, rows of a table, or "recorded".
struct Given {  // NOLINT(bugprone-exception-escape): as Question
    std::optional<inference::Fit> fit;
    std::vector<inference::Reading> readings;  // fitted here, of what was posted
    bool recorded = false;
};
Expected<Given> given_readings(const Asked& asked, const Question& question);
// The same without the fit of light (temperatures).
Expected<std::vector<inference::Reading>> posted_or_recorded(const Asked& asked, const Question& question);

Expected<light::Facing> facing_of(const nlohmann::json& object);
Expected<light::FieldOptions> options_of(const nlohmann::json& object);
Expected<spectrum::Quantity> quantity_of(const nlohmann::json& object);
Expected<std::vector<scene::Vec3>> points_of(const nlohmann::json& object);

// A finite number of the body between two limits, or nothing where it is not there.
Expected<std::optional<double>> number_of(const nlohmann::json& object, const std::string& name, double least,
                                          double most);

}  // namespace dapple::server
