// What a fix does to the warmth of the basking places: a moved heat lamp or stone may overheat or chill one.
#pragma once

#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "scene/enclosure.h"

namespace dapple::advice {

// A sentence for each bask spot whose surface gets noticeably warmer or cooler and then lies farther outside of what
// the sheet of an animal that basks there asks for. By warmth::glance: differences are better known than temperatures
// (docs/warmth.md). `animals` are judged in either enclosure.
std::vector<std::string> warmed(const scene::Enclosure& before, const scene::Enclosure& after,
                                const std::vector<husbandry::AnimalJudgement>& animals);

}  // namespace dapple::advice
