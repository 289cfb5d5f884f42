// Places and numbers in the keeper's words.
#pragma once

#include <string>

#include "husbandry/reach.h"

namespace dapple::husbandry {

// Two significant digits, never an exponent: "0.04", "3.1", "12".
std::string uvi_in_words(double uvi);

// "at 12, 8, 4 cm", from the left, the front and the floor.
std::string coordinates(const scene::Vec3& place);

// "on Flat stone at ...", "on the floor (back left) at ...".
std::string place_in_words(const scene::Enclosure& enclosure, const Reach& reach, std::size_t point);

}  // namespace dapple::husbandry
