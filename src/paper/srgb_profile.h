// An sRGB profile (IEC 61966-2-1) for a PDF's output intent.
#pragma once

#include <string>

namespace dapple::paper {

std::string srgb_profile();  // an ICC profile's bytes, the same every time

}  // namespace dapple::paper
