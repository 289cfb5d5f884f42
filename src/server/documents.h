// Enclosure documents on their way to the engine: from the record or from a request, with the files they name, and
// with what the record's readings say of them.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "husbandry/verdict.h"
#include "inference/fit.h"
#include "record/store.h"
#include "scene/document.h"

namespace dapple::server {

// Files that documents name: of the site's record, else of those that travel in the program, and nowhere else.
scene::ReadOptions reading_of(const record::Store& store, const std::string& site, const std::string& name);
std::optional<std::string> shipped_file(const std::string& name);

Expected<scene::Enclosure> parse_kept(const record::Store& store, const record::Thing& enclosure);

// The fit to the last round of readings of the enclosure of that id; nothing: there is none.
Expected<std::optional<inference::Fit>> recorded_fit(const record::Store& store,
                                                     const scene::Enclosure& enclosure,
                                                     const std::string& id);

// In the light fitted to the last round where there is one; its notes say which.
Expected<husbandry::Judgement> judged_by_record(const record::Store& store, const scene::Enclosure& enclosure,
                                                const std::string& id);

}  // namespace dapple::server
