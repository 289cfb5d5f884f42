// The last round of readings in an enclosure, as a fit wants it: true values by the meters' calibrations, and the
// document as it stood when they were taken.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "inference/fit.h"
#include "inference/readings.h"
#include "record/store.h"

namespace dapple::record {

struct LastRound {
    scene::Enclosure then;  // the enclosure as it stood
    inference::Readings readings;
    std::string day;                     // of the newest reading
    std::vector<std::string> exchanged;  // ids in the document of lamps that were exchanged since
};

// Nothing: no reading of the enclosure can serve. Readings under a note that begins with `in_the_way` are left out.
// Taken together are those of the newest reading's survey; without a survey, those of its day.
inline constexpr std::string_view in_the_way = "Something in the way";
Result<std::optional<LastRound>> last_round(const Store& store, const std::string& enclosure);

// What the round teaches of the enclosure as it is now, or as it is being changed to.
inference::Fit fitted(const LastRound& round, const scene::Enclosure& now);

}  // namespace dapple::record
