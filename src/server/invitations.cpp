// Invitations: a link, and the same as a QR code for a phone, that makes an account or adds a role to one.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "paper/qr.h"
#include "record/people.h"
#include "server/answers.h"
#include "server/me.h"
#include "server/own_address.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

namespace {

json as_json(const record::Invitation& i) {
    const auto moment = [](const std::optional<record::Moment>& m) {
        return m ? json(record::to_text(*m)) : json(nullptr);
    };
    return {{"id", i.id},
            {"site", i.site},
            {"role", name(i.role)},
            {"made_by", i.made_by},
            {"made_at", record::to_text(i.made_at)},
            {"expires", record::to_text(i.expires)},
            {"used_at", moment(i.used_at)},
            {"used_by", i.used_by.empty() ? json(nullptr) : json(i.used_by)},
            {"withdrawn_at", moment(i.withdrawn_at)}};
}

// The site of the question, if the visitor manages it; else the refusal.
tl::expected<std::string, Response> managed(const Asked& asked, const std::string& site) {
    if (site.empty()) {
        return tl::unexpected(unusable({{"request", "/site", "nothing", "the id of a site"}}));
    }
    const auto role = asked.visitor.role_at(site);
    if (!role) return tl::unexpected(not_there());
    if (*role != record::Role::manager) return tl::unexpected(forbidden("Invitations are a manager's"));
    return site;
}

Response list(const Asked& asked) {
    const auto site = managed(asked, asked.request.asked("site"));
    if (!site) return site.error();
    const auto found = record::invitations(*asked.service.store, *site);
    if (!found) return refusal(found.error());
    json invitations = json::array();
    for (const record::Invitation& one : *found) invitations.push_back(as_json(one));
    return json_answer({{"invitations", std::move(invitations)}});
}

Response make(const Asked& asked) {
    const auto body = body_of(asked.request, {"site", "role"});
    if (!body) return body.error();
    const auto site = managed(asked, text_in(*body, "site"));
    if (!site) return site.error();
    const auto role = record::role_named(text_in(*body, "role"));
    if (!role) {
        return unusable(
            {{"request", "/role", "\"" + text_in(*body, "role") + "\"", "viewer, keeper, manager"}});
    }
    const auto made = record::invite(*asked.service.store, asked.visitor.actor(), *site, *role);
    if (!made) return refusal(made.error());
    // After the #: a browser does not send it, so that it stands in nobody's log.
    const std::string url = own_address(asked) + "/invited#" + made->token;
    return json_answer({{"token", made->token},
                        {"url", url},
                        {"qr_svg", paper::qr_svg(url)},
                        {"invitation", as_json(made->invitation)}},
                       201);
}

Response withdraw(const Asked& asked) {
    const auto site = managed(asked, asked.request.asked("site"));
    if (!site) return site.error();
    const auto of_site = record::invitations(*asked.service.store, *site);
    if (!of_site) return refusal(of_site.error());
    for (const record::Invitation& one : *of_site) {
        if (one.id != asked.id) continue;
        const auto done = record::withdraw(*asked.service.store, asked.visitor.actor(), asked.id);
        return done ? nothing() : refusal(done.error());
    }
    return not_there();
}

Response look_at(const Asked& asked) {
    const auto found = record::invitation_of(*asked.service.store, asked.request.asked("token"));
    if (!found) return refusal(found.error());
    if (!*found) return refusal(404, "This invitation is used up, withdrawn, too old or none");
    const auto site = asked.service.store->find("site", (*found)->site);
    if (!site) return refusal(site.error());
    return json_answer({{"site_name", site->fields.value("name", "")}, {"role", name((*found)->role)}});
}

Response accept(const Asked& asked) {
    if (!asked.service.options.accounts) return refusal(409, "On this machine alone there are no accounts");
    const auto body = body_of(asked.request, {"token", "name", "login", "password"});
    if (!body) return body.error();
    const std::string token = text_in(*body, "token");
    const bool as_somebody = !body->contains("login") && !asked.visitor.is_stranger();
    if (as_somebody && asked.request.header("x-dapple-csrf") != asked.visitor.csrf) {
        return forbidden("The request does not carry this session's word (X-Dapple-Csrf)");
    }
    const auto person = [&] {
        if (as_somebody) return record::accept_as(*asked.service.store, token, asked.visitor.person);
        const std::lock_guard lock(asked.service.hashing);
        return record::accept(*asked.service.store, token,
                              {text_in(*body, "name"), text_in(*body, "login"), text_in(*body, "password")});
    }();
    if (!person) return refusal(person.error());
    auto answer = begun_session(asked.service, asked.request, person->id);
    return answer ? *std::move(answer) : refusal(answer.error());
}

}  // namespace

std::vector<Route> invitation_routes() {
    return {{"GET", "/api/invitations", Access::manager, list},
            {"POST", "/api/invitations", Access::manager, make},
            {"POST", "/api/invitations/{id}/withdraw", Access::manager, withdraw},
            {"GET", "/api/invited", Access::everybody, look_at},
            {"POST", "/api/invited", Access::everybody, accept}};
}

}  // namespace dapple::server
