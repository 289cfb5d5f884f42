// A login and its password, however they come: in the form of the page, or with each request of a program that keeps no
// cookie (HTTP's Basic scheme, RFC 7617). Both count as tries of the same login and address.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "server/route.h"

namespace dapple::server {

// The person's id, or the refusal.
tl::expected<std::string, Response> checked_password(const Asked& asked, const std::string& login,
                                                     const std::string& password);

Response too_often(std::chrono::seconds wait);  // 429

struct Credentials {
    std::string login;
    std::string password;
};
// Of the header `Authorization: Basic ...`; nothing: none came, or it cannot be read.
std::optional<Credentials> basic_credentials(const Request& request);

}  // namespace dapple::server
