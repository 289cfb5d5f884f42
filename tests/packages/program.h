// What the program says of its own commands and options.
#pragma once

#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>

#include "cli/cli.h"

namespace dapple::tests {

inline std::string help(std::vector<std::string> words) {
    words.emplace_back("--help");
    std::istringstream in;
    std::ostringstream out;
    std::ostringstream err;
    cli::run(words, in, out, err);
    return out.str();
}

inline std::set<std::string> options_in(const std::string& text) {
    static const std::regex option(R"(^  (?:-\w,)?(--[a-z0-9-]+))");
    std::set<std::string> found;
    std::istringstream lines(text);
    std::smatch match;
    for (std::string line; std::getline(lines, line);) {
        if (std::regex_search(line, match, option)) found.insert(match[1]);
    }
    return found;
}

// Each command with its options.
inline const std::map<std::string, std::set<std::string>>& commands() {
    static const std::map<std::string, std::set<std::string>> known = [] {
        static const std::regex command(R"(^  ([a-z][a-z-]*))");
        std::map<std::string, std::set<std::string>> found;
        std::istringstream lines(help({}));
        bool listed = false;
        std::smatch match;
        for (std::string line; std::getline(lines, line);) {
            listed = listed || line.starts_with("Subcommands:");
            if (listed && std::regex_search(line, match, command))
                found[match[1]] = options_in(help({match[1]}));
        }
        return found;
    }();
    return known;
}

}  // namespace dapple::tests
