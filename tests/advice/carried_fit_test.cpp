// Fixes in the light of readings.
#include "advice/carried_fit.h"

#include <gtest/gtest.h>

#include "advice/fix.h"
#include "advice/pens.h"

namespace dapple::advice {

using scene::Vec3;
using tests::parse;

namespace {

scene::Enclosure low_stone() {
    auto document = tests::pen();
    document["furniture"][0]["max_cm"][2] = 4;
    document["spots"][0]["position_cm"][2] = 4;
    return parse(document);
}

// Three surveys of the stone by a meter that reads a tenth below what the document leads to expect.
inference::Fit fitted(const scene::Enclosure& enclosure) {
    const auto expected = husbandry::judge(enclosure);
    const double uvi = 0.9 * expected->spots[0].uvi;
    std::string csv = "date,enclosure,spot,quantity,value\n";
    for (const char* day : {"2026-03-01", "2026-03-02", "2026-03-03"}) {
        csv += std::string(day) + ",pen,bask,uvi," + std::to_string(uvi) + "\n";
    }
    const auto readings = inference::parse_readings(csv, enclosure, {"readings.csv", "2026-04-01"});
    if (!readings) throw std::runtime_error(to_text(readings.error()));
    return inference::fit(enclosure, readings->sets);
}

double lamp_mean(const inference::Fit& fit) {
    return fit.mean[0];
}

}  // namespace

TEST(CarriedFit, a_lamp_that_is_moved_keeps_what_was_learned_of_it_and_a_new_one_has_its_prior) {
    const auto enclosure = low_stone();
    const auto fit = fitted(enclosure);
    ASSERT_LT(lamp_mean(fit), -0.03);
    const std::vector<Change> move = {{Change::Kind::move_lamp, "uv", "", Vec3(0, 0, -0.05)}};
    const auto moved = carried_over(fit, *changed(enclosure, move), move);
    EXPECT_EQ(lamp_mean(moved), lamp_mean(fit));
    EXPECT_EQ(moved.covariance(0, 0), fit.covariance(0, 0));
    const std::vector<Change> renew = {{Change::Kind::renew_lamp, "uv", ""}};
    const auto renewed = carried_over(fit, *changed(enclosure, renew), renew);
    EXPECT_EQ(lamp_mean(renewed), 0);
    EXPECT_NEAR(renewed.covariance(0, 0), 0.25 * 0.25, 1e-12);
}

TEST(CarriedFit, an_added_lamp_comes_with_its_prior_beside_what_is_known) {
    const auto enclosure = low_stone();
    const auto fit = fitted(enclosure);
    const std::vector<Change> add = {{Change::Kind::add_lamp, "new", "tube_mid_55", Vec3(0.5, 0.3, 0.55)}};
    const auto carried = carried_over(fit, *changed(enclosure, add), add);
    ASSERT_EQ(carried.unknowns.size(), 2U);
    EXPECT_EQ(carried.mean[0], fit.mean[0]);
    EXPECT_EQ(carried.mean[1], 0);
    EXPECT_EQ(carried.covariance(0, 1), 0);
}

TEST(CarriedFit, the_factor_of_the_light_is_that_of_the_posterior) {
    const auto enclosure = low_stone();
    const auto fit = fitted(enclosure);
    const Vec3 point(0.3, 0.3, 0.08);
    const auto factor = fitted_factor(fit, std::span(&point, 1));
    EXPECT_NEAR(factor[0][0], std::exp(lamp_mean(fit)), 1e-12);
}

TEST(CarriedFit, fixes_come_with_probabilities_and_intervals) {
    const auto enclosure = low_stone();
    const auto found = search_fixes(fitted(enclosure));
    ASSERT_TRUE(found);
    ASSERT_FALSE(found->fixes.empty());
    for (const Fix& fix : found->fixes) {
        SCOPED_TRACE(fix.words);
        EXPECT_GE(fix.probability, 0);
        EXPECT_LE(fix.probability, 1);
        ASSERT_TRUE(fix.after.spots[0].interval);
        EXPECT_LT(fix.after.spots[0].interval->first, fix.after.spots[0].uvi);
        EXPECT_GT(fix.after.spots[0].interval->second, fix.after.spots[0].uvi);
    }
    const Fix& first = found->fixes.front();
    EXPECT_GT(first.probability, 0.5) << first.words;
    char interval[32];
    std::snprintf(interval, sizeof interval, "(%.1f-%.1f)", first.after.spots[0].interval->first,
                  first.after.spots[0].interval->second);
    EXPECT_NE(first.words.find(interval), std::string::npos) << first.words;
}

}  // namespace dapple::advice
