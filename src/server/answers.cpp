#include "server/answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "record/kind.h"

namespace dapple::server {

using nlohmann::json;

namespace {

constexpr int deepest = 64;

// Bytes that are no UTF-8 may have come in with what a problem quotes; they are replaced, never thrown about.
std::string text_of(const json& document) {
    return document.dump(-1, ' ', false, json::error_handler_t::replace);
}

bool nested_deeper_than(int limit, std::string_view text) {
    int depth = 0;
    bool in_string = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (in_string) {
            if (c == '\\') ++i;
            if (c == '"') in_string = false;
        } else if (c == '"') {
            in_string = true;
        } else if (c == '[' || c == '{') {
            if (++depth > limit) return true;
        } else if (c == ']' || c == '}') {
            --depth;
        }
    }
    return false;
}

std::string listed(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

struct Meaning {
    int status;
    const char* title;
};

Meaning meaning_of(record::Trouble trouble) {
    using record::Trouble;
    switch (trouble) {
        case Trouble::invalid:
            return {422, "This cannot be used as it stands"};
        case Trouble::missing:
            return {404, "There is no such thing"};
        case Trouble::conflict:
            return {412, "Somebody changed it meanwhile"};
        case Trouble::taken:
            return {409, "This is taken already"};
        case Trouble::reused_key:
            return {422, "The idempotency key came with another request before"};
        case Trouble::unavailable:
            return {503, "The record cannot be reached now"};
        case Trouble::full:
            return {507, "There is no room left on the disk"};
        case Trouble::read_only:
            return {503, "The record cannot be written"};
        case Trouble::damaged:
            return {503, "The record is damaged"};
        case Trouble::too_new:
            return {503, "The record was written by a later version"};
    }
    return {500, "Something went wrong in the program"};
}

Response problem_answer(int status, const json& details) {
    Response answer{
        status, "application/problem+json; charset=utf-8", text_of(details), {{"Cache-Control", "no-store"}}};
    if (status == 503) answer.headers.emplace_back("Retry-After", "2");
    return answer;
}

}  // namespace

Response json_answer(const json& document, int status) {
    return {status, "application/json; charset=utf-8", text_of(document), {{"Cache-Control", "no-store"}}};
}

Response nothing() {
    return {204, "", "", {{"Cache-Control", "no-store"}}};
}

Response thing_answer(const record::Thing& thing, bool made) {
    Response answer = json_answer(to_json(thing), made ? 201 : 200);
    answer.headers.emplace_back("ETag", fmt::format("\"{}\"", thing.revision));
    if (made) {
        answer.headers.emplace_back(
            "Location", fmt::format("/api/{}/{}", record::kind_named(thing.kind)->plural, thing.id));
    }
    return answer;
}

json problem_details(int status, const std::string& title, const Problems& problems) {
    json body = {{"type", "about:blank"}, {"title", title}, {"status", status}, {"problems", json::array()}};
    if (!problems.empty()) body["detail"] = problems.front().message();
    for (const Problem& p : problems) {
        body["problems"].push_back(
            {{"file", p.file}, {"place", p.place}, {"found", p.found}, {"allowed", p.allowed}});
    }
    return body;
}

Response refusal(int status, const std::string& title, const Problems& problems) {
    return problem_answer(status, problem_details(status, title, problems));
}

Response unreadable(const Problems& problems) {
    return refusal(400, "The request cannot be read", problems);
}
Response unusable(const Problems& problems) {
    return refusal(422, "This cannot be used as it stands", problems);
}
Response forbidden(const std::string& why) {
    return refusal(403, why);
}
Response not_there() {
    return refusal(404, "There is no such thing");
}

json problem_details(const record::Refusal& refused) {
    const auto [status, title] = meaning_of(refused.trouble);
    json body = problem_details(status, title, refused.problems);
    body["trouble"] = name(refused.trouble);
    if (refused.theirs) body["theirs"] = to_json(*refused.theirs);
    return body;
}

Response refusal(const record::Refusal& refused) {
    return problem_answer(meaning_of(refused.trouble).status, problem_details(refused));
}

Expected<json> read_any_object(std::string_view body) {
    if (nested_deeper_than(deepest, body)) {
        return refuse(
            {"request", "", "lists or objects nested very deeply", fmt::format("{} levels", deepest)});
    }
    json object = json::parse(body, nullptr, false);
    if (object.is_discarded()) return refuse({"request", "", "text that is no JSON", "a JSON object"});
    if (!object.is_object()) return refuse({"request", "", object.type_name(), "a JSON object"});
    return object;
}

Expected<json> read_object(std::string_view body, const std::vector<std::string>& fields) {
    auto object = read_any_object(body);
    if (!object) return object;
    Problems problems;
    for (const auto& [key, value] : object->items()) {
        if (std::find(fields.begin(), fields.end(), key) != fields.end()) continue;
        const std::string near = nearest(key, fields);
        problems.push_back({"request", "/" + key, "unknown field \"" + key + "\"",
                            listed(fields) + (near.empty() ? "" : "; did you mean \"" + near + "\"?")});
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return object;
}

}  // namespace dapple::server
