#include "problem/problem.h"

#include <gtest/gtest.h>

namespace dapple {

TEST(Problem, names_file_place_what_was_found_and_what_is_allowed) {
    const Problem problem{"pen.json", "/lamps/0/kind", "\"tub\"", "tube, spot, coil, bar"};
    EXPECT_EQ(problem.message(), "pen.json at /lamps/0/kind: found \"tub\"; allowed: tube, spot, coil, bar");
}

TEST(Nearest, forgives_a_slip_and_refuses_a_stranger) {
    const std::vector<std::string> words = {"size_cm", "screens", "spots"};
    EXPECT_EQ(nearest("sizes_cm", words), "size_cm");
    EXPECT_EQ(nearest("spot", words), "spots");
    EXPECT_EQ(nearest("zebra", words), "");
}

}  // namespace dapple
