// A command line run inside the test: what it printed, what it complained of, and its exit status.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/cli.h"

namespace dapple::tests {

struct Outcome {
    int status;
    std::string out;
    std::string err;
    nlohmann::json json() const { return nlohmann::json::parse(out); }
};

inline Outcome dapple(const std::vector<std::string>& arguments, const std::string& input = "") {
    std::istringstream in(input);
    std::ostringstream out;
    std::ostringstream err;
    const int status = cli::run(arguments, in, out, err);
    return {status, out.str(), err.str()};
}

// A folder of the test's own, gone when it ends.
class Folder {
  public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "dapple-test-XXXXXX").string();
        path_ = mkdtemp(name.data());
    }
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(file(name)) << text;
        return file(name);
    }
    std::string read(const std::string& name) const {
        std::ifstream in(file(name), std::ios::binary);
        return std::string(std::istreambuf_iterator<char>(in), {});
    }

  private:
    std::filesystem::path path_;
};

// A small black box with a UV tube, a stone, and an animal whose band the document gives.
inline const char* const small_pen = R"({
  "format": "dapple/enclosure@1", "id": "pen", "name": "Test pen", "size_cm": [60, 40, 50],
  "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4, "band": [2.9, 7.4]}],
  "lamps": [{"id": "uv", "kind": "tube", "length_cm": 30, "diameter_cm": 1.6, "centre_cm": [30, 20, 46],
             "along": [1, 0, 0], "aim": [0, 0, -1], "spectrum": "fluorescent_uvb_strong",
             "output": {"uvi": 4, "at_cm": 30}}],
  "furniture": [{"id": "stone", "name": "Flat stone", "shape": "box", "min_cm": [20, 10, 0], "max_cm": [40, 30, 10],
                 "material": "slate", "perch": true}],
  "spots": [{"id": "bask", "name": "Flat stone", "position_cm": [30, 20, 10], "role": "bask"},
            {"id": "cool", "name": "Corner", "position_cm": [55, 5, 0], "role": "retreat"}]
})";

}  // namespace dapple::tests
