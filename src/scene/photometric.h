// IES LM-63 photometric files: measured luminous intensity of a lamp by direction.
//
// Read are the editions of 1986 (no header line), 1991, 1995, 2002 and 2019, photometric type C, TILT=NONE.
// Type C: the vertical angle theta runs from the aim of the lamp (0 = straight down as mounted) to its back
// (180); the horizontal angle phi runs about the aim, from `along` (0) toward aim x along. Files that give
// one half (0-180, or 90-270 about the plane across) or one quadrant (0-90) are completed by their symmetry;
// one plane means the same all round. (ANSI/IES LM-63-19, section 5; the meaning of the angles as in IES
// LM-75.)
//
// Intensities are scaled to 1 along the aim, as a lamp's strength comes from its measured output; a file that
// is dark along the aim is refused for that reason.
#pragma once

#include <string>
#include <string_view>

#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::scene {

// `file` and `place` name the text in messages; the place of a fault is `place` followed by its line.
Expected<Photometry> parse_ies(std::string_view text, const std::string& file, const std::string& place = "");

}  // namespace dapple::scene
