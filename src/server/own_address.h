// Where the application is reached, for links that others follow; without a slash at the end.
#pragma once

#include <string>

#include "server/route.h"

namespace dapple::server {

std::string own_address(const Asked& asked);

}  // namespace dapple::server
