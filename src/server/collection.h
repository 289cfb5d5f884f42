// The enclosures that are served: their documents as people wrote them, and what the program thinks of each.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "embedded/files.h"
#include "problem/problem.h"
#include "scene/document.h"

namespace dapple::server {

struct Kept {
    std::string id;
    std::string document;  // JSON text, upgraded to the present format
};

// How documents are read here: a file they name (OBJ, IES, CSV) is looked for among the files that travel in the
// program and nowhere else.
scene::ReadOptions reading(const std::string& file);

// Every JSON document among the files, in the order of their names; one that cannot be read is left out and
// named in `problems`.
std::vector<Kept> read_collection(const std::vector<embedded::File>& files, Problems& problems);

// {"id", "name", "size_cm", "animals", "judgement"}; the judgement is null, and "problems" says why, where
// the enclosure cannot be judged.
nlohmann::json summary(const Kept& kept);

}  // namespace dapple::server
