#include "server/hosts.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

namespace dapple::server {

bool is_own_host(const std::string& host_header) {
    std::string_view host = host_header;
    const std::size_t colon = host.rfind(':');
    if (colon != std::string_view::npos && host.find(']', colon) == std::string_view::npos) {
        const std::string_view port = host.substr(colon + 1);
        const auto is_digit = [](unsigned char c) { return std::isdigit(c) != 0; };
        if (port.empty() || !std::all_of(port.begin(), port.end(), is_digit)) return false;
        host = host.substr(0, colon);
    }
    constexpr std::array<std::string_view, 3> own = {"localhost", "127.0.0.1", "[::1]"};
    return std::find(own.begin(), own.end(), host) != own.end();
}

bool is_own_origin(const std::string& origin_header) {
    constexpr std::string_view scheme = "http://";
    if (origin_header.empty()) return true;
    return origin_header.starts_with(scheme) && is_own_host(origin_header.substr(scheme.size()));
}

bool is_same_host(const std::string& origin_header, const std::string& host_header) {
    if (origin_header.empty()) return true;
    const auto scheme_end = origin_header.find("://");
    return scheme_end != std::string::npos && origin_header.substr(scheme_end + 3) == host_header;
}

bool is_loopback(const std::string& address) {
    return address == "127.0.0.1" || address == "localhost" || address == "::1";
}

}  // namespace dapple::server
