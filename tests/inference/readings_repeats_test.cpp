#include "inference/readings_repeats.h"

#include <gtest/gtest.h>

namespace dapple::tests {

using inference::summarise;

TEST(Repeats, a_single_value_stands_for_itself) {
    EXPECT_EQ(summarise({3.1}).value, 3.1);
    EXPECT_EQ(summarise({3.1}).scatter, 0);
}

TEST(Repeats, one_slip_among_five_does_not_move_the_value) {
    const auto set = summarise({3.0, 3.1, 0.2, 3.2, 3.1});
    EXPECT_EQ(set.value, 3.1);
    EXPECT_NEAR(set.scatter, 1.4826 * 0.1, 1e-9);  // the distances are 0, 0, 0.1, 0.1, 2.9
}

TEST(Repeats, two_values_meet_in_the_middle_and_say_nothing_of_their_scatter) {
    EXPECT_EQ(summarise({2.0, 4.0}).value, 3.0);
    EXPECT_EQ(summarise({2.0, 4.0}).scatter, 0);
}

}  // namespace dapple::tests
