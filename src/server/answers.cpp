#include "server/answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

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

}  // namespace

Response json_answer(const json& document) {
    return {200, "application/json; charset=utf-8", text_of(document), {{"Cache-Control", "no-store"}}};
}

Response refusal(int status, const std::string& title, const Problems& problems) {
    json body = {{"type", "about:blank"}, {"title", title}, {"status", status}};
    if (!problems.empty()) body["detail"] = problems.front().message();
    body["problems"] = json::array();
    for (const Problem& p : problems) {
        body["problems"].push_back(
            {{"file", p.file}, {"place", p.place}, {"found", p.found}, {"allowed", p.allowed}});
    }
    return {
        status, "application/problem+json; charset=utf-8", text_of(body), {{"Cache-Control", "no-store"}}};
}

Expected<json> read_object(std::string_view body, const std::vector<std::string>& fields) {
    if (nested_deeper_than(deepest, body)) {
        return refuse(
            {"request", "", "lists or objects nested very deeply", fmt::format("{} levels", deepest)});
    }
    json object = json::parse(body, nullptr, false);
    if (object.is_discarded()) return refuse({"request", "", "text that is no JSON", "a JSON object"});
    if (!object.is_object()) {
        return refuse({"request", "", object.type_name(), "an object with " + listed(fields)});
    }
    Problems problems;
    for (const auto& [key, value] : object.items()) {
        if (std::find(fields.begin(), fields.end(), key) != fields.end()) continue;
        const std::string near = nearest(key, fields);
        problems.push_back({"request", "/" + key, "unknown field \"" + key + "\"",
                            listed(fields) + (near.empty() ? "" : "; did you mean \"" + near + "\"?")});
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return object;
}

}  // namespace dapple::server
