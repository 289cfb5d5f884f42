// Names as people type them: capitals, diacritics, punctuation and slips of the finger set aside.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace dapple::husbandry {

// The words of a text in lower-case ASCII: Latin letters lose their diacritics ("Günther's" -> "gunthers"),
// letters of other scripts stay as they are, everything else parts words.
std::vector<std::string> words_of(std::string_view text);

std::string joined(const std::vector<std::string>& words, std::string_view between);

// The least number of letters inserted, dropped, exchanged or swapped with their neighbour that turns `a`
// into `b` (optimal string alignment; Damerau 1964, Communications of the ACM 7:171-176).
std::size_t slips_between(std::string_view a, std::string_view b);

// How many slips are forgiven in a word of that many letters.
std::size_t forgivable_slips(std::size_t letters);

}  // namespace dapple::husbandry
