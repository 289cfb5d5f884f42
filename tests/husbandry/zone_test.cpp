#include "husbandry/zone.h"

#include <gtest/gtest.h>

#include <cmath>

#include "reference.h"

namespace dapple::husbandry {
namespace {

TEST(zone, the_band_of_each_zone_is_the_table_of_highest_uvi_sought_and_common_practice_for_zone_1) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/uv_zones.csv")) {
        const int zone = static_cast<int>(tests::number(row, "zone"));
        const auto band = band_of({zone});
        ASSERT_TRUE(band) << zone;
        EXPECT_EQ(band->low, tests::number(row, zone == 1 ? "practice_low" : "highest_low")) << zone;
        EXPECT_EQ(band->high, tests::number(row, zone == 1 ? "practice_high" : "highest_high")) << zone;
        EXPECT_EQ(band->ceiling, band->high) << zone;
        ++rows;
    }
    EXPECT_EQ(rows, 4);
}

TEST(zone, an_animal_between_two_zones_has_the_band_of_the_lower_and_the_ceiling_of_the_higher) {
    for (int a = 1; a < 4; ++a) {
        const auto band = band_of({a, a + 1});
        EXPECT_EQ(band->low, band_of({a})->low);
        EXPECT_EQ(band->high, band_of({a})->high);
        EXPECT_EQ(band->ceiling, band_of({a + 1})->high);
    }
}

TEST(zone, no_zone_or_a_zone_that_does_not_exist_gives_no_band) {
    EXPECT_FALSE(band_of({}));
    EXPECT_FALSE(band_of({0}));
    EXPECT_FALSE(band_of({4, 5}));
}

TEST(zone, the_low_and_the_high_end_are_the_outer_fifths_on_a_log_axis) {
    const Band band = *band_of({3});
    const double fifth = std::log(7.4 / 2.9) / 5;
    const double low_ends = 2.9 * std::exp(fifth);
    const double high_begins = 7.4 * std::exp(-fifth);
    // A part in a million to either side: far more than rounding, far less than a meter shows.
    EXPECT_EQ(state_of(2.9 * (1 - 1e-6), band), State::below);
    EXPECT_EQ(state_of(2.9, band), State::low);
    EXPECT_EQ(state_of(low_ends * (1 - 1e-6), band), State::low);
    EXPECT_EQ(state_of(low_ends * (1 + 1e-6), band), State::in);
    EXPECT_EQ(state_of(high_begins * (1 - 1e-6), band), State::in);
    EXPECT_EQ(state_of(high_begins * (1 + 1e-6), band), State::high);
    EXPECT_EQ(state_of(7.4, band), State::high);
    EXPECT_EQ(state_of(7.4 * (1 + 1e-6), band), State::above);
}

TEST(zone, a_band_from_the_dark_has_no_low_end_and_its_high_end_is_measured_from_the_meters_floor) {
    const Band band = *band_of({1});
    EXPECT_EQ(state_of(0, band), State::in);
    EXPECT_EQ(state_of(0.06, band), State::in);
    const double high_begins = 0.7 * std::pow(0.05 / 0.7, 0.2);
    EXPECT_EQ(state_of(high_begins * (1 - 1e-6), band), State::in);
    EXPECT_EQ(state_of(high_begins * (1 + 1e-6), band), State::high);
    EXPECT_EQ(state_of(0.71, band), State::above);
}

TEST(zone, between_two_zones_a_reading_over_the_band_is_above_it_even_under_the_ceiling) {
    EXPECT_EQ(state_of(8, *band_of({3, 4})), State::above);
}

TEST(zone, a_band_somebody_set_is_its_own_ceiling) {
    const Band band = band_between(1, 2);
    EXPECT_EQ(band.ceiling, 2);
    EXPECT_EQ(state_of(std::sqrt(2.0), band), State::in);
}

TEST(zone, states_have_the_names_of_the_documents) {
    EXPECT_EQ(name(State::below), "below");
    EXPECT_EQ(name(State::low), "low");
    EXPECT_EQ(name(State::in), "in");
    EXPECT_EQ(name(State::high), "high");
    EXPECT_EQ(name(State::above), "above");
}

}  // namespace
}  // namespace dapple::husbandry
