#include "embedded/files.h"

#include <algorithm>

namespace dapple::embedded {

std::optional<std::string_view> find(const std::vector<File>& files, std::string_view path) {
    const auto it = std::find_if(files.begin(), files.end(), [&](const File& f) { return f.path == path; });
    if (it == files.end()) return std::nullopt;
    return it->bytes;
}

}  // namespace dapple::embedded
