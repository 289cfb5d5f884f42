// The vector kernel is compiled once for each instruction set. A function that two of those compilations share by name
// would be merged by the linker, and a machine without AVX-512 could be handed the AVX-512 one. So every function such an
// object offers to the linker must carry its own instruction set in its name.
#ifdef DAPPLE_LIGHT_LIBRARY
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <map>
#include <memory>
#include <string>

namespace {

std::string output_of(const std::string& command) {
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    std::string text;
    std::array<char, 4096> buffer{};
    while (pipe && std::fgets(buffer.data(), static_cast<int>(buffer.size()), pipe.get()) != nullptr)
        text += buffer.data();
    return text;
}

TEST(Kernel, shares_no_function_between_instruction_sets) {
    const std::map<std::string, std::string> own = {{"kernel_avx2.cpp.o", "avx2"},
                                                    {"kernel_avx512.cpp.o", "avx512"}};
    const std::string symbols = output_of(std::string("nm -C --defined-only ") + DAPPLE_LIGHT_LIBRARY);
    ASSERT_NE(symbols.find("kernel_avx512.cpp.o:"), std::string::npos) << "nm lists no kernel";
    std::string object;
    int seen = 0;
    for (std::size_t begin = 0, end = 0; (end = symbols.find('\n', begin)) != std::string::npos;
         begin = end + 1) {
        const std::string line = symbols.substr(begin, end - begin);
        if (line.ends_with(".o:")) object = line.substr(0, line.size() - 1);
        const auto mine = own.find(object);
        if (mine == own.end() || line.size() < 20) continue;
        const bool merged = line[17] == 'W' || line[17] == 'V' || line[17] == 'u';
        if (!merged || line.find("__gxx_personality") != std::string::npos) continue;
        EXPECT_NE(line.find(mine->second), std::string::npos) << object << " offers " << line;
        ++seen;
    }
    EXPECT_GT(seen, 10);
}

}  // namespace
#endif
