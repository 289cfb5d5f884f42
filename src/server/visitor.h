// Who asks, and what they may do where. Where no accounts are asked for (this machine alone) everybody is the local
// person, a manager everywhere.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/people.h"
#include "server/request.h"

namespace dapple::server {

struct Visitor {
    std::string person = {};  // id; empty: a stranger
    std::string token = {};   // of the session
    std::string csrf = {};    // what writing requests must carry; empty: nothing
    std::vector<record::Standing> standings = {};

    bool is_stranger() const { return person.empty(); }
    std::optional<record::Role> role_at(std::string_view site) const;
    bool has_role(record::Role least) const;  // somewhere
    bool may_see(std::string_view site) const { return role_at(site).has_value(); }
    bool may_write(std::string_view site, std::string_view kind) const;
    std::vector<std::string> sites() const;
    record::Actor actor() const { return {person}; }
};

record::Result<Visitor> visitor_of(const Request& request, const record::Store& store, bool accounts);

// The cookie that carries a session; `token` empty: it ends.
std::string session_cookie(const std::string& token, bool secure);

}  // namespace dapple::server
