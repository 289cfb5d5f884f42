// The field against independent light simulators: every scene of tests/scenes for which reference/peers/values holds
// numbers, direct and with interreflection. A missing file fails.
//
// Allowed: 1 % RMS of the scene's mean beyond the peer's own stated noise (added in squares). The peers' tubes are
// luminous cylinders and ours are lines: 0.4-0.7 % of that for a tube of 16 mm, none for one of 3 mm
// (reference/peers/README.md). For a coil 4 cm thick, seen from 8 to 50 cm, the two models themselves differ by 8 to 10 %
// RMS; both peers say so alike, and the scene guards only against worse.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>

#include "light/field.h"
#include "reference.h"
#include "scene/document.h"

namespace dapple::light {
namespace {

using namespace tests;
namespace fs = std::filesystem;

struct Case {
    std::string scene, peer, file;
    bool aimed;
};

std::vector<Case> cases() {
    std::vector<Case> all;
    for (const auto& entry : fs::directory_iterator(std::string(DAPPLE_ROOT) + "/reference/peers/values")) {
        const std::string file = entry.path().filename().string();
        const auto dot = file.find('.'), next = file.find('.', dot + 1);
        all.push_back({file.substr(0, dot), file.substr(dot + 1, next - dot - 1), file,
                       file.find(".aimed.") != std::string::npos});
    }
    std::sort(all.begin(), all.end(), [](const Case& a, const Case& b) { return a.file < b.file; });
    return all;
}

class Peers : public testing::TestWithParam<Case> {};

TEST_P(Peers, agree_with_the_field) {
    const Case& c = GetParam();
    const auto enclosure =
        scene::load_enclosure(std::string(DAPPLE_ROOT) + "/tests/scenes/" + c.scene + ".json");
    ASSERT_TRUE(enclosure) << to_text(enclosure.error());
    const Field direct(*enclosure, {0}), whole(*enclosure, {-1});
    for (const char* bounces : {"0", "all"}) {
        const Field& field = std::string(bounces) == "0" ? direct : whole;
        double mean = 0, square = 0, noise = 0;
        int n = 0;
        for (const Row& row : read_reference("peers/values/" + c.file)) {
            if (row.at("bounces") != bounces) continue;
            const scene::Vec3 point =
                0.01 * scene::Vec3(number(row, "x_cm"), number(row, "y_cm"), number(row, "z_cm"));
            const scene::Vec3 normal(number(row, "nx"), number(row, "ny"), number(row, "nz"));
            // The peers' aimed normals maximise direct light; with reflected light the two need not be the same.
            const bool turn = c.aimed && std::string(bounces) == "0";
            const Facing facing = turn ? Facing::aimed() : Facing::fixed(normal);
            const double ours = field.at(point, facing).measure(spectrum::Quantity::uvi);
            const double theirs = number(row, "uvi");
            mean += theirs;
            square += (ours - theirs) * (ours - theirs);
            noise += std::pow(number(row, "stderr_uvi"), 2);
            ++n;
        }
        if (n == 0) continue;
        mean /= n;
        const double rms = std::sqrt(square / n) / mean, stated = std::sqrt(noise / n) / mean;
        const double allowed = c.scene == "coil_black" ? 0.105 : 0.01;
        EXPECT_LE(rms, std::hypot(allowed, stated))
            << c.file << " bounces " << bounces << ", mean " << mean << " UVI";
        printf("  %-44s bounces %-3s  %3d points  RMS %.3f %% of the mean, stated noise %.3f %%\n",
               c.file.c_str(), bounces, n, 100 * rms, 100 * stated);
    }
}

INSTANTIATE_TEST_SUITE_P(Values, Peers, testing::ValuesIn(cases()),
                         [](const testing::TestParamInfo<Case>& that) {
                             std::string name = that.param.file;
                             std::replace_if(
                                 name.begin(), name.end(),
                                 [](char ch) { return std::isalnum(static_cast<unsigned char>(ch)) == 0; },
                                 '_');
                             return name;
                         });

TEST(Peers, cover_at_least_eight_scenes_by_two_programs) {
    std::map<std::string, std::set<std::string>> peers;
    for (const Case& c : cases()) peers[c.scene].insert(c.peer);
    int both = 0;
    for (const auto& [scene, names] : peers) both += names.size() >= 2 ? 1 : 0;
    EXPECT_GE(both, 8);
}

}  // namespace
}  // namespace dapple::light
