// Zip files in memory (libzip). Names inside are only names: nothing is ever written under them. For this folder only.
#pragma once

#include <map>
#include <string>

#include "problem/problem.h"
#include "record/moment.h"

namespace dapple::record {

Expected<std::string> zipped(const std::map<std::string, std::string>& files, Moment at);

// Refused: what is no zip, and one that would unpack to more than `most_bytes` or `most_files`.
Expected<std::map<std::string, std::string>> unzipped(const std::string& bytes, const std::string& file,
                                                      std::size_t most_bytes = 1'000'000'000,
                                                      std::size_t most_files = 20'000);

}  // namespace dapple::record
