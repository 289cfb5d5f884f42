// Which names a program on this machine may be called by. A page elsewhere can make a browser look up its own
// name as 127.0.0.1 (DNS rebinding) and then speak to us as if it were our own; it still gives itself away by
// the name in the Host header.
#pragma once

#include <string>

namespace dapple::server {

// "localhost", "127.0.0.1" or "[::1]", with or without a port.
bool is_own_host(const std::string& host_header);

// An Origin header ("http://localhost:8460"), absent (empty) for requests that come from no page.
bool is_own_origin(const std::string& origin_header);

// That a page's request comes from a page of the same host as it goes to.
bool is_same_host(const std::string& origin_header, const std::string& host_header);

bool is_loopback(const std::string& address);

}  // namespace dapple::server
