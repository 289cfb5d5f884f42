// What the documents point to is there: links between pages, and files and folders that they name.
#include <gtest/gtest.h>

#include <regex>
#include <set>

#include "packages/files.h"

namespace dapple::tests {

namespace {

namespace fs = std::filesystem;

std::vector<fs::path> pages() {
    std::vector<fs::path> found = {root / "README.md", root / "CHANGELOG.md"};
    for (const char* folder : {"docs", "data", "examples", "bench", "reference", "packaging"}) {
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            if (entry.path().extension() == ".md") found.push_back(entry.path());
        }
    }
    return found;
}

// Pages without what stands in fenced blocks: commands name files that they make.
std::string prose(const fs::path& page) {
    std::string text;
    bool fenced = false;
    for (const std::string& line : lines_of(read(page))) {
        if (line.starts_with("```")) {
            fenced = !fenced;
        } else if (!fenced) {
            text += line + "\n";
        }
    }
    return text;
}

std::vector<std::string> all(const std::string& text, const std::regex& wanted) {
    std::vector<std::string> found;
    for (std::sregex_iterator it(text.begin(), text.end(), wanted), end; it != end; ++it)
        found.push_back((*it)[1]);
    return found;
}

// A heading as a link names it: small letters and digits, a hyphen for each blank.
std::set<std::string> anchors(const fs::path& page) {
    std::set<std::string> found;
    for (const std::string& line : lines_of(prose(page))) {
        if (!line.starts_with("#")) continue;
        std::string anchor;
        for (const char c : line.substr(line.find_first_not_of("# "))) {
            if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-') {
                anchor += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
            } else if (c == ' ') {
                anchor += '-';
            }
        }
        found.insert(anchor);
    }
    return found;
}

// What is wrong with a link of that page; empty: nothing.
std::string fault_of(const std::string& link, const fs::path& page) {
    if (link.starts_with("https://") || link.starts_with("mailto:")) return {};
    const auto hash = link.find('#');
    const std::string file = link.substr(0, hash);
    const fs::path target = file.empty() ? page : page.parent_path() / file;
    if (!fs::exists(target)) return "no such file";
    if (hash != std::string::npos && !anchors(target).contains(link.substr(hash + 1)))
        return "no such heading";
    return {};
}

// `src/light/aim.h`, `tests/structure`: a path from the repository's top.
const std::regex named_path(
    R"(`((?:src|web|data|tests|bench|reference|docs|examples|packages|packaging|scripts|cmake)/[A-Za-z0-9_./-]+)`)");

}  // namespace

TEST(Documents, link_to_what_is_there) {
    static const std::regex link(R"(\]\(([^)\s]+)\))");
    std::size_t seen = 0;
    for (const fs::path& page : pages()) {
        for (const std::string& target : all(prose(page), link)) {
            ++seen;
            EXPECT_EQ(fault_of(target, page), "") << page << " links to " << target;
        }
    }
    EXPECT_GT(seen, 15U);
}

TEST(Documents, name_files_that_are_there) {
    std::size_t seen = 0;
    for (const fs::path& page : pages()) {
        for (const std::string& named : all(prose(page), named_path)) {
            ++seen;
            EXPECT_TRUE(fs::exists(root / named)) << page << " names " << named;
        }
    }
    EXPECT_GT(seen, 60U);
}

// In the tables of formulas a bare `aim_test.cpp` belongs to the folder its column's heading names.
TEST(TheFormulas, name_tests_that_are_there) {
    static const std::regex bare(R"(`(\w+_test\.cpp)`)");
    static const std::regex heading(R"(held to \(`(tests/\w+)`\))");
    std::string folder;
    std::size_t seen = 0;
    for (const std::string& line : lines_of(read(root / "docs/physics.md"))) {
        if (const auto named = all(line, heading); !named.empty()) folder = named.front();
        for (const std::string& test : all(line, bare)) {
            ++seen;
            EXPECT_TRUE(fs::exists(root / folder / test)) << folder << "/" << test;
        }
    }
    EXPECT_GT(seen, 30U);
}

TEST(Documents, are_all_listed_on_their_first_page) {
    const std::string index = read(root / "docs/README.md");
    for (const auto& entry : fs::directory_iterator(root / "docs")) {
        const std::string name = entry.path().filename().string();
        if (entry.path().extension() == ".md" && name != "README.md") {
            EXPECT_NE(index.find("(" + name + ")"), std::string::npos) << name;
        }
    }
}

TEST(Decisions, are_numbered_once_and_have_a_title) {
    std::set<std::string> numbers;
    for (const auto& entry : fs::directory_iterator(root / "docs/decisions")) {
        const std::string name = entry.path().filename().string();
        EXPECT_TRUE(numbers.insert(name.substr(0, 4)).second) << name;
        EXPECT_TRUE(read(entry.path()).starts_with("# ")) << name;
    }
}

TEST(ALinkChecker, finds_what_is_not_there) {
    const fs::path page = root / "docs/README.md";
    EXPECT_EQ(fault_of("record.md", page), "");
    EXPECT_EQ(fault_of("record.md#what-is-promised", page), "");
    EXPECT_EQ(fault_of("nowhere.md", page), "no such file");
    EXPECT_EQ(fault_of("record.md#what-is-not", page), "no such heading");
}

}  // namespace dapple::tests
