// What Cairo leaves out of a PDF, put in through QPDF: language, descriptions of figures, XMP, output intent.
// For this folder only.
#pragma once

#include <string>
#include <vector>

#include "paper/pdf.h"

namespace dapple::paper {

// `alternatives` describe the Figure elements in the order in which they were drawn.
std::string finished(const std::string& pdf, const About& about,
                     const std::vector<std::string>& alternatives);

}  // namespace dapple::paper
