#include "server/writing.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <nlohmann/json.hpp>

#include "server/answers.h"

namespace dapple::server {

using nlohmann::json;

namespace {

// A person is seen by those who share a site with them.
record::Result<std::vector<record::Standing>> standings_of(const Asked& asked, const std::string& person) {
    return record::standings(*asked.service.store, person);
}

bool shares_a_site(const Asked& asked, const std::string& person) {
    if (person == asked.visitor.person || person == record::local_person) return true;
    if (asked.visitor.person == record::local_person) return true;
    const auto theirs = standings_of(asked, person);
    return theirs && std::any_of(theirs->begin(), theirs->end(),
                                 [&](const record::Standing& s) { return asked.visitor.may_see(s.site); });
}

// Over a person may decide who manages every site they belong to.
bool manages(const Asked& asked, const std::string& person) {
    if (asked.visitor.person == record::local_person) return true;
    const auto theirs = standings_of(asked, person);
    return theirs && !theirs->empty() &&
           std::all_of(theirs->begin(), theirs->end(), [&](const record::Standing& s) {
               return asked.visitor.role_at(s.site) == record::Role::manager;
           });
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

}  // namespace

std::optional<std::int64_t> seen_of(const Request& request) {
    std::string text = request.header("if-match");
    if (text.starts_with("W/")) text.erase(0, 2);
    std::erase(text, '"');
    std::int64_t revision = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), revision);
    if (fault != std::errc() || end != text.data() + text.size() || revision < 1) return std::nullopt;
    return revision;
}

Response needs_seen() {
    return refusal(
        428, "The request must say which revision it saw",
        {{"request", "If-Match", "nothing that is a revision", "the revision, as the ETag said it"}});
}

std::string key_of(const Request& request) {
    return request.header("idempotency-key");
}

std::string why_of(const Request& request) {
    const std::string text = request.header("dapple-why");
    std::string why;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const int high = text[i] == '%' && i + 2 < text.size() ? hex_digit(text[i + 1]) : -1;
        const int low = high >= 0 ? hex_digit(text[i + 2]) : -1;
        if (low >= 0) {
            why.push_back(static_cast<char>(16 * high + low));
            i += 2;
        } else {
            why.push_back(text[i]);
        }
    }
    return why;
}

tl::expected<json, Response> body_of(const Request& request) {
    if (!request.content_type.starts_with("application/json")) {
        return tl::unexpected(refusal(415, "The body must be application/json"));
    }
    auto object = read_any_object(request.body);
    if (!object) return tl::unexpected(unreadable(object.error()));
    return *std::move(object);
}

tl::expected<json, Response> body_of(const Request& request, const std::vector<std::string>& fields) {
    if (!request.content_type.starts_with("application/json")) {
        return tl::unexpected(refusal(415, "The body must be application/json"));
    }
    auto object = read_object(request.body, fields);
    if (!object) return tl::unexpected(unreadable(object.error()));
    return *std::move(object);
}

bool may_see(const Asked& asked, const record::Thing& thing) {
    if (thing.kind == "person") return shares_a_site(asked, thing.id);
    return asked.visitor.may_see(thing.site);
}

tl::expected<record::Thing, Response> seen_thing(const Asked& asked, std::string_view kind,
                                                 const std::string& id) {
    auto thing = asked.service.store->find(std::string(kind), id);
    if (!thing) return tl::unexpected(refusal(thing.error()));
    if (!may_see(asked, *thing)) return tl::unexpected(not_there());
    return *std::move(thing);
}

std::optional<Response> may_not_make(const Asked& asked, std::string_view kind, const std::string& site) {
    if (kind == "person" || kind == "site") {
        if (asked.visitor.has_role(record::Role::manager)) return std::nullopt;
        return forbidden("This needs the role of a manager");
    }
    if (site.empty()) {
        return unusable({{"request", "/site", "nothing", "the id of the site it belongs to"}});
    }
    if (!asked.visitor.may_see(site)) {
        return unusable({{"request", "/site", "\"" + site + "\"", "the id of a site you belong to"}});
    }
    if (asked.visitor.may_write(site, kind)) return std::nullopt;
    return forbidden("Your role at this site does not allow it");
}

std::optional<Response> may_not_alter(const Asked& asked, const record::Thing& thing) {
    if (thing.kind == "person") {
        if (manages(asked, thing.id)) return std::nullopt;
        return forbidden("Only who manages every site of a person may change them");
    }
    if (!asked.visitor.may_write(thing.site, thing.kind))
        return forbidden("Your role at this site does not allow it");
    constexpr std::array own = {"reading", "survey", "note"};
    const bool by_another = thing.made_by != asked.visitor.person;
    if (by_another && asked.visitor.role_at(thing.site) == record::Role::keeper &&
        std::find(own.begin(), own.end(), thing.kind) != own.end()) {
        return forbidden("Corrections of what others wrote are a manager's");
    }
    return std::nullopt;
}

}  // namespace dapple::server
