// The web application as files: which file answers an address, its type, how long a browser may keep it, and
// the rules (Content-Security-Policy and the like) under which the browser runs it.
#pragma once

#include <string>

#include "server/request.h"

namespace dapple::server {

// `nonce` is a fresh random word of this answer; only style sheets that carry it are accepted beside our own
// files. Addresses without a file name are screens of the application and get its page. Built without the web
// application, the page says so.
Response page(const std::string& path, const std::string& nonce);

// Headers of every answer.
std::vector<std::pair<std::string, std::string>> security_headers(const std::string& nonce);

}  // namespace dapple::server
