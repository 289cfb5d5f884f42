// The forms an answer takes: a JSON document, or a refusal as problem details (RFC 9457) that carries every
// Problem found, in the same four words as on the command line. What a trouble of the record means in HTTP is said
// here, once.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

#include "problem/problem.h"
#include "record/refusal.h"
#include "record/thing.h"
#include "server/request.h"

namespace dapple::server {

Response json_answer(const nlohmann::json& document, int status = 200);
Response nothing();  // 204

// A thing of the record with its revision as ETag; 201 with its address where it was just made.
Response thing_answer(const record::Thing& thing, bool made = false);

// `title` says in a few words what kind of trouble this is; `problems` say what to change.
nlohmann::json problem_details(int status, const std::string& title, const Problems& problems = {});
Response refusal(int status, const std::string& title, const Problems& problems = {});

// 400: the request cannot be read; 422: it can be read but not be used.
Response unreadable(const Problems& problems);
Response unusable(const Problems& problems);
Response forbidden(const std::string& why);
Response not_there();

nlohmann::json problem_details(const record::Refusal& refused);
Response refusal(const record::Refusal& refused);

// The body of a request as a JSON object that has no fields but these. Refused: what is no JSON, no object,
// nested deeper than any document of ours (a guard for the recursion in those who read it), or has an unknown
// field.
Expected<nlohmann::json> read_object(std::string_view body, const std::vector<std::string>& fields);
// The same, with any fields.
Expected<nlohmann::json> read_any_object(std::string_view body);

}  // namespace dapple::server
