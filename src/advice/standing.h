// How good a judgement is, as one value that can be compared; and what became worse between two judgements.
#pragma once

#include <string>
#include <tuple>
#include <vector>

#include "husbandry/verdict.h"
#include "scene/enclosure.h"

namespace dapple::advice {

// Better is smaller: first fewer parts that fail, then nearer to where they would hold, then fewer basking
// spots at an end of the band.
struct Standing {
    int failed = 0;  // parts of any animal's verdict that do not hold; of basking every spot out of the band
    double distance =
        0;  // sum over what is out of bounds of |ln(value / bound)|, values from the meter's floor up
    int at_an_end = 0;  // basking spots in the outer fifths of the band

    bool everything_holds() const { return failed == 0; }
    friend bool operator==(const Standing& a, const Standing& b) { return a.key() == b.key(); }
    friend bool operator<(const Standing& a, const Standing& b) { return a.key() < b.key(); }

  private:
    std::tuple<int, double, int> key() const { return {failed, distance, at_an_end}; }
};

Standing standing_of(const husbandry::Judgement& judgement, const scene::Enclosure& enclosure);

// A sentence for each part that fails after and held before, or fails by more than before.
std::vector<std::string> worsened(const husbandry::Judgement& before, const husbandry::Judgement& after,
                                  const scene::Enclosure& enclosure);

// A sentence for each part that failed before and still does.
std::vector<std::string> still_failing(const husbandry::Judgement& before, const husbandry::Judgement& after,
                                       const scene::Enclosure& enclosure);

// A sentence for each part that failed before and holds now.
std::vector<std::string> mended(const husbandry::Judgement& before, const husbandry::Judgement& after);

}  // namespace dapple::advice
