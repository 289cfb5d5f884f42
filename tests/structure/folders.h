// The architecture as CMakeLists.txt states it in its dapple_folder lines, and whether the sources keep to
// it.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

namespace dapple::tests {

// For each folder below src, the folders its files may include: itself, those it USES, and theirs.
using Allowed = std::map<std::string, std::set<std::string>>;

Allowed read_allowed(const std::string& cmake_lists);

// What is wrong with the includes of one source of `folder`, a sentence each.
std::vector<std::string> faults(const Allowed& allowed, const std::string& folder, const std::string& source);

}  // namespace dapple::tests
