// Enclosure documents, contract "dapple/enclosure@1": JSON in, checked and converted to SI; JSON out.
//
// Everything wrong with a document is reported, not only the first fault; unknown fields are faults that name
// the nearest known field; numbers must be finite and sizes positive; points lie inside the box unless they
// belong to a lamp above an open or screened top. Documents of older formats are upgraded before they are
// read.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::scene {

// Reads a file a document refers to (OBJ, glTF, IES, CSV), by the name written in the document. A server
// passes none, so that no path from outside reaches the file system.
using FileReader = std::function<std::optional<std::string>(const std::string& name)>;

struct ReadOptions {
    std::string file = "document";  // its name in messages
    FileReader read_file = {};
};

Expected<Enclosure> parse_enclosure(std::string_view json, const ReadOptions& options = {});

// Reads a document and the files it names, which lie relative to it.
Expected<Enclosure> load_enclosure(const std::string& path);

// The document of an enclosure. Parsing it again gives an equal enclosure. Values that were changed since
// parsing (a moved lamp, a raised stone) are written; everything else stays as the person wrote it.
nlohmann::json to_json(const Enclosure& enclosure);
std::string to_text(const Enclosure& enclosure);  // indented, arrays of numbers on one line

// The JSON Schema (draft 2020-12) of the format, shipped with the program.
std::string_view schema();

}  // namespace dapple::scene
