// The readings a command was given, read and fitted.
#pragma once

#include <ostream>
#include <string>

#include "inference/fit.h"

namespace dapple::cli {

// The readings of a file; says on `err` which of them cannot serve. Later ones than today are faults.
Expected<std::vector<inference::Reading>> read_readings(const std::string& path,
                                                        const scene::Enclosure& enclosure, std::ostream& err);

Expected<inference::Fit> fit_to(const std::string& path, const scene::Enclosure& enclosure,
                                std::ostream& err);

}  // namespace dapple::cli
