#include "structure/folders.h"

#include <regex>
#include <sstream>

namespace dapple::tests {

namespace {

std::set<std::string> used_folders(const std::string& arguments) {
    std::set<std::string> used;
    std::istringstream words(arguments);
    bool listing = false;
    for (std::string word; words >> word;) {
        if (word == "USES" || word == "LIBRARIES") {
            listing = word == "USES";
        } else if (listing) {
            used.insert(word);
        }
    }
    return used;
}

}  // namespace

Allowed read_allowed(const std::string& cmake_lists) {
    static const std::regex line(R"(dapple_folder\((\w+)([^)]*)\))");
    Allowed allowed;
    for (std::sregex_iterator it(cmake_lists.begin(), cmake_lists.end(), line), end; it != end; ++it) {
        const std::string folder = (*it)[1];
        std::set<std::string> all = {folder};
        for (const std::string& used : used_folders((*it)[2])) {
            all.insert(used);
            // Folders are listed from the ground up, so what a used folder may use is already known.
            const std::set<std::string>& below = allowed.at(used);
            all.insert(below.begin(), below.end());
        }
        allowed[folder] = all;
    }
    return allowed;
}

std::vector<std::string> faults(const Allowed& allowed, const std::string& folder,
                                const std::string& source) {
    static const std::regex include(R"re(#\s*include\s*"([^"]*)")re");
    std::vector<std::string> found;
    const auto own = allowed.find(folder);
    if (own == allowed.end()) return {"the folder " + folder + " stands in no dapple_folder line"};
    for (std::sregex_iterator it(source.begin(), source.end(), include), end; it != end; ++it) {
        const std::string path = (*it)[1];
        const std::string target = path.substr(0, path.find('/'));
        if (path.find('/') == std::string::npos || path.find("..") != std::string::npos) {
            found.push_back("\"" + path + "\" does not name its folder");
        } else if (allowed.find(target) == allowed.end()) {
            found.push_back("\"" + path + "\" lies in no folder of ours");
        } else if (own->second.find(target) == own->second.end()) {
            found.push_back(folder + " may not include \"" + path + "\"");
        }
    }
    return found;
}

}  // namespace dapple::tests
