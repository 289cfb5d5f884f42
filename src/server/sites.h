// Which sites a question is about: the one it names (`?site=`), if the visitor may see it, else all of theirs.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "server/route.h"

namespace dapple::server {

tl::expected<std::vector<std::string>, Response> sites_asked(const Asked& asked);

// ?limit: a whole number from 1 to 10,000, else 1000.
Expected<int> limit_asked(const Request& request);

}  // namespace dapple::server
