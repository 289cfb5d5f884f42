// Several values read at one place at one time, as one value that a slip does not spoil.
#pragma once

#include <vector>

namespace dapple::inference {

struct Repeats {
    double value;    // the median, in the values' own unit
    double scatter;  // one standard deviation of a single value, in the same unit; 0 for fewer than three
};

// The scatter is 1.4826 times the median distance from the median, which for a normal spread is its standard
// deviation (Hampel 1974, J. Am. Stat. Assoc. 69:383-393). At least one value.
Repeats summarise(std::vector<double> values);

}  // namespace dapple::inference
