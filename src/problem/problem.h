// What a person is told when something they gave us cannot be used: where it stands, what was found there and
// what would be allowed. Foreign input never throws and never aborts; it comes back as a list of these.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace dapple {

struct Problem {
    std::string file;     // as the user named it; empty for input that is no file
    std::string place;    // JSON pointer, line number or option name; empty for the whole file
    std::string found;    // what stands there
    std::string allowed;  // what may stand there; names the nearest known word where one is close

    // One line: `FILE at PLACE: found FOUND; allowed: ALLOWED`.
    std::string message() const;
};

using Problems = std::vector<Problem>;

// A value, or everything that is wrong with the input (all of it, not only the first fault).
template <class T>
using Expected = tl::expected<T, Problems>;

inline tl::unexpected<Problems> refuse(Problem problem) {
    return tl::unexpected<Problems>(Problems{std::move(problem)});
}

// All messages, one a line.
std::string to_text(const Problems& problems);

// The candidate nearest to `word` by edit distance (Levenshtein 1966), or empty when none is close: more than
// a third of the word would have to change.
std::string nearest(const std::string& word, const std::vector<std::string>& candidates);

}  // namespace dapple
