// A UV forecast or a measured course that takes the place of the model where it speaks.
//
// CSV: a header row with the columns `time` and `uvi`, in any order among others that are passed over; or JSON:
//     {"forecast": [{"time": "2026-06-21T13:00+02:00", "uvi": 6.8}, ...], "source": "who says so"}
// A time is ISO 8601: with `Z` or an offset as given, without one in the place's clock time. `uvi` is that of a horizontal
// surface, under the cloud to come. Times ascend. Between two entries up to three hours apart it is read linearly; elsewhere
// the model goes on.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"
#include "sky/clock.h"

namespace dapple::sky {

struct Forecast {
    struct Entry {
        Instant time;
        double uvi;
    };
    std::vector<Entry> entries;
    std::string source;  // may be empty

    std::optional<double> uvi(Instant time) const;
};

Expected<Forecast> parse_forecast(std::string_view text, const std::string& file, const Clock& clock);

}  // namespace dapple::sky
