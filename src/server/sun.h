// The sun's day over HTTP: `dapple sun` with its options as a JSON object.
#pragma once

#include "server/calculators.h"
#include "server/route.h"

namespace dapple::server {

Response sun(const Asked& asked, const Superseded& stopped);

}  // namespace dapple::server
