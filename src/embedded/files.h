// Files that travel inside the program: the data library and the web application, byte for byte.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace dapple::embedded {

struct File {
    std::string_view path;  // below its folder, with forward slashes
    std::string_view bytes;
};

const std::vector<File>& data();      // the repository's data/
const std::vector<File>& web();       // the built web application; empty when built without it
const std::vector<File>& examples();  // the repository's examples/: the demo collection

// The file of that path, or nothing.
std::optional<std::string_view> find(const std::vector<File>& files, std::string_view path);

}  // namespace dapple::embedded
