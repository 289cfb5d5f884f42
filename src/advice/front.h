// Which fixes are shown, and in which order.
#pragma once

#include <vector>

#include "advice/fix.h"

namespace dapple::advice {

// The least probability over the animals that everything holds; without readings 1 or 0.
double probability_of(const husbandry::Judgement& judgement);

// Those that make everything hold first, cheapest first. Then, only where they are cheaper than all of those, what
// makes things better, best first; what makes something worse as well comes last. Marks the Pareto front of effort
// against probability, doing nothing among the alternatives. Drops what needs two changes where one of them does as much,
// and partial fixes where less work brings more.
std::vector<Fix> ranked(std::vector<Fix> fixes, const scene::Enclosure& enclosure, std::size_t most);

}  // namespace dapple::advice
