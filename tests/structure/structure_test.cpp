#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "structure/folders.h"

namespace dapple::tests {

namespace {

std::string read(const std::filesystem::path& path) {
    std::ifstream in(path);
    if (!in) throw std::runtime_error(path.string() + " is missing");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

Allowed allowed_here() {
    return read_allowed(read(std::filesystem::path(DAPPLE_ROOT) / "CMakeLists.txt"));
}

const char* const a_house = R"(
dapple_folder(ground LIBRARIES fmt::fmt)
dapple_folder(wall   USES ground)
dapple_folder(roof   USES wall LIBRARIES embree)
)";

}  // namespace

TEST(Structure, no_file_includes_a_folder_above_its_own) {
    const Allowed allowed = allowed_here();
    int seen = 0;
    const std::filesystem::path source = std::filesystem::path(DAPPLE_ROOT) / "src";
    for (const auto& folder : std::filesystem::directory_iterator(source)) {
        if (!folder.is_directory()) continue;
        for (const auto& file : std::filesystem::recursive_directory_iterator(folder)) {
            if (file.path().extension() != ".h" && file.path().extension() != ".cpp") continue;
            ++seen;
            for (const std::string& fault : faults(allowed, folder.path().filename().string(), read(file))) {
                ADD_FAILURE() << file.path() << ": " << fault;
            }
        }
    }
    EXPECT_GT(seen, 20);  // the fixed headers alone are more
}

TEST(Structure, every_folder_of_the_build_exists) {
    const Allowed allowed = allowed_here();
    EXPECT_GE(allowed.size(), 9U);
    for (const auto& [folder, uses] : allowed) {
        EXPECT_TRUE(std::filesystem::is_directory(std::filesystem::path(DAPPLE_ROOT) / "src" / folder))
            << folder;
    }
}

TEST(StructureChecker, lets_a_folder_use_what_lies_below_it) {
    const Allowed allowed = read_allowed(a_house);
    EXPECT_TRUE(faults(allowed, "roof", "#include \"roof/tile.h\"\n#include \"ground/soil.h\"\n").empty());
    EXPECT_TRUE(faults(allowed, "ground", "#include <vector>\n").empty());
}

TEST(StructureChecker, finds_a_folder_that_reaches_upwards) {
    const Allowed allowed = read_allowed(a_house);
    EXPECT_EQ(faults(allowed, "ground", "#include \"roof/tile.h\"\n"),
              std::vector<std::string>{"ground may not include \"roof/tile.h\""});
    EXPECT_EQ(faults(allowed, "wall", "  #  include \"roof/tile.h\"\n").size(), 1U);
}

TEST(StructureChecker, finds_strangers_and_paths_without_a_folder) {
    const Allowed allowed = read_allowed(a_house);
    EXPECT_EQ(faults(allowed, "roof", "#include \"tile.h\"\n").size(), 1U);
    EXPECT_EQ(faults(allowed, "roof", "#include \"../ground/soil.h\"\n").size(), 1U);
    EXPECT_EQ(faults(allowed, "roof", "#include \"garden/tree.h\"\n").size(), 1U);
    EXPECT_EQ(faults(allowed, "cellar", "").size(), 1U);
}

}  // namespace dapple::tests
