#include "server/visitor.h"

#include <fmt/format.h>

#include <algorithm>

namespace dapple::server {

namespace {

// A name that begins so is taken by browsers only over TLS and for the whole host (RFC 6265bis, section 4.1.3.2).
constexpr const char* secure_name = "__Host-dapple_session";
constexpr const char* plain_name = "dapple_session";
constexpr int lasts_s = 30 * 24 * 3600;  // as record/people.h

std::string cookie(const std::string& header, const std::string& wanted) {
    std::size_t at = 0;
    while (at < header.size()) {
        const std::size_t end = std::min(header.find(';', at), header.size());
        const std::size_t begin = header.find_first_not_of(' ', at);
        const std::string pair = begin < end ? header.substr(begin, end - begin) : std::string();
        if (pair.starts_with(wanted + "=")) return pair.substr(wanted.size() + 1);
        at = end + 1;
    }
    return {};
}

}  // namespace

std::optional<record::Role> Visitor::role_at(std::string_view site) const {
    for (const record::Standing& standing : standings) {
        if (standing.site == site) return standing.role;
    }
    return std::nullopt;
}

bool Visitor::has_role(record::Role least) const {
    return person == record::local_person ||
           std::any_of(standings.begin(), standings.end(),
                       [least](const record::Standing& s) { return s.role >= least; });
}

bool Visitor::may_write(std::string_view site, std::string_view kind) const {
    const auto role = role_at(site);
    return role && record::may_write(*role, kind);
}

std::vector<std::string> Visitor::sites() const {
    std::vector<std::string> result;
    for (const record::Standing& standing : standings) result.push_back(standing.site);
    return result;
}

record::Result<Visitor> visitor_of(const Request& request, const record::Store& store, bool accounts) {
    Visitor visitor;
    if (accounts) {
        visitor.token = cookie(request.header("cookie"), request.secure ? secure_name : plain_name);
        if (visitor.token.empty()) return visitor;
        const auto session = record::session_of(store, visitor.token);
        if (!session) return tl::unexpected(session.error());
        if (!*session) return Visitor{};
        visitor.person = (*session)->person;
        visitor.csrf = (*session)->csrf;
    } else {
        visitor.person = record::local_person;
    }
    auto standings = record::standings(store, visitor.person);
    if (!standings) return tl::unexpected(standings.error());
    visitor.standings = std::move(*standings);
    return visitor;
}

std::string session_cookie(const std::string& token, bool secure) {
    return fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}",
                       secure ? secure_name : plain_name, token, token.empty() ? 0 : lasts_s,
                       secure ? "; Secure" : "");
}

}  // namespace dapple::server
