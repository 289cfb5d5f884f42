// What every write has in common: the revision it saw, its key, its reason, and who may make it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "record/store.h"
#include "server/route.h"

namespace dapple::server {

// If-Match: the revision, quoted or not. Nothing: the header is missing or no revision.
std::optional<std::int64_t> seen_of(const Request& request);
Response needs_seen();  // 428

std::string key_of(const Request& request);
std::string why_of(const Request& request);  // Dapple-Why, percent-decoded

// The body of a request as JSON, or the refusal (400, 415).
tl::expected<nlohmann::json, Response> body_of(const Request& request);
tl::expected<nlohmann::json, Response> body_of(const Request& request,
                                               const std::vector<std::string>& fields);

// A thing that the visitor may see; else 404, as if it were not there.
tl::expected<record::Thing, Response> seen_thing(const Asked& asked, std::string_view kind,
                                                 const std::string& id);
bool may_see(const Asked& asked, const record::Thing& thing);

// Why the visitor may not alter the thing; nothing: they may. A keeper alters no readings, rounds and notes of others.
std::optional<Response> may_not_alter(const Asked& asked, const record::Thing& thing);
// The same of a thing that is to be made at a site.
std::optional<Response> may_not_make(const Asked& asked, std::string_view kind, const std::string& site);

}  // namespace dapple::server
