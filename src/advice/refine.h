// Amounts of several changes refined together, without derivatives: the price of a change has steps (a part holds or
// does not) and kinks (shadows). NLopt's Sbplx, after Rowan's Subplex (T. Rowan 1990, Functional Stability Analysis of
// Numerical Algorithms, University of Texas, ch. 7), within bounds; then the whole steps around what it found, because
// a keeper measures in whole centimetres.
#pragma once

#include <functional>
#include <vector>

namespace dapple::advice {

struct Range {  // of one amount; a step of 0: it stays as it is
    double least;
    double most;
    double step;
};

// Calls `price` for amounts near the cheapest; the caller keeps what it likes.
void refine(const std::vector<double>& start, const std::vector<Range>& ranges,
            const std::function<double(const std::vector<double>&)>& price);

// Whether every amount that may change is a whole number of its steps.
bool in_whole_steps(const std::vector<double>& amounts, const std::vector<Range>& ranges);

}  // namespace dapple::advice
