// Programs that know nothing of ours, to read what we wrote: a missing one fails the test.
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>

namespace dapple::tests {

struct Ran {
    int status = -1;
    std::string output;  // standard output
};

inline Ran run(const std::string& command) {
    Ran ran;
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) return ran;
    std::array<char, 4096> buffer{};
    for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
        ran.output.append(buffer.data(), got);
    const int status = pclose(pipe);
    ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return ran;
}

// A folder of its own that goes when the test ends.
class Folder {
  public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "dapple-paper-XXXXXX").string();
        if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        path_ = name;
    }
    ~Folder() { std::filesystem::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::string file(const std::string& name, const std::string& bytes) const {
        std::ofstream(file(name), std::ios::binary) << bytes;
        return file(name);
    }

  private:
    std::filesystem::path path_;
};

}  // namespace dapple::tests
