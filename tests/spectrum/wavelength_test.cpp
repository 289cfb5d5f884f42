#include "spectrum/wavelength.h"

#include <gtest/gtest.h>

#include "columns.h"

namespace dapple::spectrum {

using tests::at;

TEST(Axis, a_table_is_read_linearly_between_its_rows_and_as_told_outside) {
    const auto zero = resample({300, 310}, {1, 3}, Outside::zero);
    EXPECT_DOUBLE_EQ(at(zero, 300), 1);
    EXPECT_DOUBLE_EQ(at(zero, 305), 2);
    EXPECT_DOUBLE_EQ(at(zero, 310), 3);
    EXPECT_EQ(at(zero, 299), 0);
    EXPECT_EQ(at(zero, 311), 0);
    const auto nearest = resample({300, 310}, {1, 3}, Outside::nearest);
    EXPECT_EQ(at(nearest, 200), 1);
    EXPECT_EQ(at(nearest, 2500), 3);
}

TEST(Axis, a_table_that_reaches_beyond_the_axis_is_cut_at_its_ends) {
    const auto wide = resample({100, 3100}, {0, 3000}, Outside::zero);
    EXPECT_NEAR(at(wide, 200), 100, 1e-9);
    EXPECT_NEAR(at(wide, 2500), 2400, 1e-9);
}

TEST(Axis, logarithmic_reading_makes_straight_lines_of_exponentials) {
    const auto weight = resample_log({300, 320}, {1, 1e-4}, Outside::zero);
    EXPECT_NEAR(at(weight, 310), 1e-2, 1e-14);
    EXPECT_NEAR(at(weight, 305), 1e-1, 1e-13);
    EXPECT_NEAR(at(weight, 320), 1e-4, 1e-16);
    EXPECT_EQ(at(weight, 299), 0);
    EXPECT_EQ(at(weight, 321), 0);
}

TEST(Axis, one_row_is_a_line_at_one_wavelength) {
    const auto line = resample({546}, {2}, Outside::zero);
    EXPECT_EQ(at(line, 546), 2);
    EXPECT_EQ(line.sum(), 2);
}

TEST(Axis, the_mean_over_each_nanometre_keeps_the_integral_of_a_narrow_line) {
    // A triangle 0.4 nm wide between two whole nanometres: samples would miss it, means keep its area of 0.2.
    const auto line = resample({546.2, 546.4, 546.6}, {0, 1, 0}, Outside::zero);
    EXPECT_NEAR(line.sum(), 0.2, 1e-12);
    EXPECT_NEAR(at(line, 546), 0.2 - at(line, 547), 1e-12);
    EXPECT_NEAR(at(line, 547), 0.5 * 0.1 * 0.5, 1e-12);  // the corner beyond 546.5 nm: half base times height
}

TEST(Axis, means_of_a_straight_line_are_its_samples) {
    std::vector<double> fine;
    for (int i = 0; i <= 1000; ++i) fine.push_back(250 + 0.3 * i);
    const auto ramp = resample(fine, fine, Outside::zero);
    for (const int nm : {251, 300, 400, 549}) EXPECT_NEAR(at(ramp, nm), nm, 1e-9);
    EXPECT_NEAR(at(resample(fine, fine, Outside::nearest), 250), 250 + 0.125, 1e-9);
    EXPECT_EQ(at(ramp, 551), 0);
}

TEST(Integral, is_the_trapezoid_between_whole_nanometres) {
    EXPECT_DOUBLE_EQ(integral(constant(2), 280, 315), 70);
    EXPECT_DOUBLE_EQ(integral(constant(1)), last_nm - first_nm);
    EXPECT_EQ(integral(constant(1), 300, 300), 0);
    EXPECT_DOUBLE_EQ(integral(constant(1), 0, 5000), last_nm - first_nm);
    const auto ramp = resample({200, 2500}, {200, 2500}, Outside::zero);
    EXPECT_NEAR(integral(ramp, 300, 400), 0.5 * (400.0 * 400 - 300.0 * 300), 1e-6);
}

}  // namespace dapple::spectrum
