// The forms an answer takes: a JSON document, or a refusal as problem details (RFC 9457) that carries every
// Problem found, in the same four words as on the command line.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

#include "problem/problem.h"
#include "server/request.h"

namespace dapple::server {

Response json_answer(const nlohmann::json& document);

// `title` says in a few words what kind of trouble this is; `problems` say what to change.
Response refusal(int status, const std::string& title, const Problems& problems = {});

// The body of a request as a JSON object that has no fields but these. Refused: what is no JSON, no object,
// nested deeper than any document of ours (a guard for the recursion in those who read it), or has an unknown
// field.
Expected<nlohmann::json> read_object(std::string_view body, const std::vector<std::string>& fields);

}  // namespace dapple::server
