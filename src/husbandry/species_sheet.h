// How species sheets stand in JSON; used by the library and by enclosure documents.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "embedded/files.h"
#include "husbandry/species.h"

namespace dapple::husbandry {

// Citations by the short key a library file gives them.
using Citations = std::map<std::string, std::string>;

// One sheet. A source that is a key of `citations` is replaced by its citation; others stay as written,
// unless `only_cited`: then they are faults.
Expected<Species> read_sheet(const nlohmann::json& sheet, const std::string& file, const std::string& place,
                             const Citations& citations = {}, bool only_cited = false);

// All sheets of "species/*.json", by scientific name; every fault of every file when there is one.
Expected<std::vector<Species>> read_library(const std::vector<embedded::File>& files);

}  // namespace dapple::husbandry
