// A plan of one layer of a field, seen from above with the front wall below, as a PNG.
#pragma once

#include <string>

#include "cli/lattice.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::cli {

// One quantity in colour on a linear scale from 0, with axes in cm, the scale, and the enclosure's spots. The bytes
// of the file.
Expected<std::string> to_png(const FieldOnLattice& field, const scene::Enclosure& enclosure);

}  // namespace dapple::cli
