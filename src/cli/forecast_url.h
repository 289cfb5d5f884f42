// A forecast fetched from an address that the person names (`dapple sun --forecast-url`). Nothing else of `dapple sun` calls
// out, and this only when asked.
#pragma once

#include <chrono>
#include <string>

#include "problem/problem.h"

namespace dapple::cli {

struct FetchLimits {
    std::chrono::milliseconds connect{5'000};
    std::chrono::milliseconds each_read{10'000};
    std::chrono::milliseconds whole{30'000};  // of the answer's body
    std::size_t most_bytes = 1U << 20;        // a week of minutes is a third of it
};

// The body at an http or https address. Certificates are checked; redirections are named, not followed, so that what is
// asked is what was written.
Expected<std::string> fetch_forecast(const std::string& url, const FetchLimits& limits = {});

}  // namespace dapple::cli
