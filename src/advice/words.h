// A fix in the words one keeper would say to another.
#pragma once

#include <string>
#include <vector>

#include "advice/fix.h"

namespace dapple::advice {

// "Raise the flat stone 6 cm"
std::string instruction(const Change& change, const scene::Enclosure& enclosure);

// The instructions, what the meter reads before and after, what then still fails and what became worse.
std::string words_of(const Fix& fix, const scene::Enclosure& before_change);

}  // namespace dapple::advice
