// Who asks, as the application is told; and a session begun.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "server/service.h"
#include "server/visitor.h"

namespace dapple::server {

nlohmann::json me(Service& service, const Visitor& visitor);

// The answer that carries the new session's cookie.
record::Result<Response> begun_session(Service& service, const Request& request, const std::string& person);

// A text of the body; empty where there is none.
std::string text_in(const nlohmann::json& body, const char* name);

}  // namespace dapple::server
