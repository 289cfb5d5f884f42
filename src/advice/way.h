// The changes worth trying: ways, each one thing changed in one manner by an amount that is open (a length, an angle, a
// factor, a height), or by none. The search walks each way from its first amount until something is in the way.
#pragma once

#include <string>
#include <vector>

#include "advice/fix.h"

namespace dapple::advice {

struct Way {
    enum class Measure { none, length, angle, factor, height };

    Change change;  // `by` is a unit vector; for a height the place without its z
    Measure measure = Measure::none;
    std::vector<double> amounts = {};  // coarse: m, rad, factor; empty where there is nothing to measure
    double finest = 0;                 // between coarse amounts, 0: no finer ones

    Change at(double amount) const;  // `amount` counts for nothing where there is nothing to measure
};

// Everything that can be done to this enclosure. Amounts are whole centimetres, five degrees, tenths.
std::vector<Way> ways_of(const scene::Enclosure& enclosure, const FixOptions& options);

// Two ways of moving the same thing along the same axis are one way walked twice.
bool can_be_paired(const Way& a, const Way& b);

// An id that no thing of the enclosure has yet.
std::string fresh_id(const scene::Enclosure& enclosure, const std::string& wanted);

}  // namespace dapple::advice
