// Sessions, and what belongs to a person: settings and password.
#include "record/people.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "server/answers.h"
#include "server/checked_password.h"
#include "server/me.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

json me(Service& service, const Visitor& visitor) {
    json sites = json::array();
    for (const record::Standing& standing : visitor.standings) {
        const auto site = service.store->find("site", standing.site);
        if (site && !site->retired_at) {
            sites.push_back({{"site", to_json(*site)}, {"role", name(standing.role)}});
        }
    }
    json person = nullptr;
    if (!visitor.is_stranger()) {
        const auto found = service.store->find("person", visitor.person);
        if (found) person = to_json(*found);
    }
    return {{"person", std::move(person)},
            {"accounts", service.options.accounts},
            {"csrf", visitor.csrf.empty() ? json(nullptr) : json(visitor.csrf)},
            {"sites", std::move(sites)}};
}

record::Result<Response> begun_session(Service& service, const Request& request, const std::string& person) {
    const auto session = record::begin_session(*service.store, person);
    if (!session) return tl::unexpected(session.error());
    auto standings = record::standings(*service.store, person);
    if (!standings) return tl::unexpected(standings.error());
    Response answer =
        json_answer(me(service, {person, session->token, session->session.csrf, std::move(*standings)}));
    answer.headers.emplace_back("Set-Cookie", session_cookie(session->token, request.secure));
    return answer;
}

std::string text_in(const json& body, const char* name) {
    const auto found = body.find(name);
    return found != body.end() && found->is_string() ? found->get<std::string>() : std::string();
}

namespace {

Response who(const Asked& asked) {
    return json_answer(me(asked.service, asked.visitor));
}

Response sign_in(const Asked& asked) {
    if (!asked.service.options.accounts) {
        return refusal(409, "On this machine alone nobody needs to sign in");
    }
    const auto body = body_of(asked.request, {"login", "password"});
    if (!body) return body.error();
    const auto person = checked_password(asked, text_in(*body, "login"), text_in(*body, "password"));
    if (!person) return person.error();
    auto answer = begun_session(asked.service, asked.request, *person);
    return answer ? *std::move(answer) : refusal(answer.error());
}

Response sign_out(const Asked& asked) {
    if (!asked.visitor.token.empty()) {
        if (!asked.visitor.csrf.empty() && asked.request.header("x-dapple-csrf") != asked.visitor.csrf) {
            return forbidden("The request does not carry this session's word (X-Dapple-Csrf)");
        }
        const auto ended = record::end_session(*asked.service.store, asked.visitor.token);
        if (!ended) return refusal(ended.error());
    }
    Response answer = nothing();
    answer.headers.emplace_back("Set-Cookie", session_cookie("", asked.request.secure));
    return answer;
}

Response keep_settings(const Asked& asked) {
    const auto body = body_of(asked.request);
    if (!body) return body.error();
    constexpr int tries = 5;  // two tabs of one person
    record::Result<record::Thing> kept;
    for (int i = 0; i < tries; ++i) {
        const auto person = asked.service.store->find("person", asked.visitor.person);
        if (!person) return refusal(person.error());
        record::Write write{.deed = record::Deed::change, .kind = "person", .id = person->id};
        write.seen = person->revision;
        write.fields = person->fields;
        write.fields["settings"] = *body;
        kept = asked.service.store->write(asked.visitor.actor(), write);
        if (kept || kept.error().trouble != record::Trouble::conflict) break;
    }
    return kept ? thing_answer(*kept) : refusal(kept.error());
}

Response change_password(const Asked& asked) {
    if (!asked.service.options.accounts) {
        return refusal(409, "On this machine alone there are no passwords");
    }
    const auto body = body_of(asked.request, {"old", "new"});
    if (!body) return body.error();
    const auto person = asked.service.store->find("person", asked.visitor.person);
    if (!person) return refusal(person.error());
    const std::string who_tries = "password " + asked.visitor.person;
    const auto now = std::chrono::steady_clock::now();
    if (const auto wait = asked.service.tries.wait(who_tries, now); wait.count() > 0) return too_often(wait);
    const std::lock_guard lock(asked.service.hashing);
    const auto fits = record::check_password(*asked.service.store, person->fields.value("login", ""),
                                             text_in(*body, "old"));
    if (!fits) {
        asked.service.tries.failed(who_tries, now);
        return refusal(403, "That is not the present password");
    }
    const auto set = record::set_password(*asked.service.store, asked.visitor.actor(), asked.visitor.person,
                                          text_in(*body, "new"), asked.visitor.token);
    return set ? nothing() : refusal(set.error());
}

}  // namespace

std::vector<Route> people_routes() {
    return {{"GET", "/api/me", Access::everybody, who},
            {"POST", "/api/session", Access::everybody, sign_in},
            {"DELETE", "/api/session", Access::everybody, sign_out},
            {"PUT", "/api/me/settings", Access::person, keep_settings},
            {"PUT", "/api/me/password", Access::person, change_password}};
}

}  // namespace dapple::server
