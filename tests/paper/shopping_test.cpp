#include "paper/shopping.h"

#include <gtest/gtest.h>

#include <cmath>

#include "paper/collection.h"

namespace dapple::paper {

namespace {

using inference::day_of;

// A tube whose light at the flagstone falls by a known law, exp(-0.2 h / 1000 h), read every 20 days.
void fade(tests::Collection& collection) {
    for (int day = 20; day <= 180; day += 20) {
        const auto on = *day_of("2025-12-01") + std::chrono::days(day);
        const double hours = 11.0 * day;
        collection.read("dry-wall", "wall-top", inference::to_text(on) + "T10:00:00Z",
                        3.6 * std::exp(-0.2 * hours / 1000), {{"lamp", "tube"}});
    }
}

const nlohmann::json tube = {{"name", "UV tube, dry wall"},
                             {"lamp_kind", "fluorescent_tube"},
                             {"power_w", 54},
                             {"price", 42.5},
                             {"hours_on", 11},
                             {"installed_on", "2025-12-01"},
                             {"enclosure", "dry-wall"},
                             {"place", "uv"},
                             {"hours_before", 0}};

}  // namespace

// It leaves the band, which begins at 2.9 (zone 3; Ferguson et al. 2010), when 3.6 exp(-0.2 t) = 2.9: after 1081 h,
// that is 98 days after the first of December, and so before these readings ended.
TEST(Shopping, a_lamp_is_wanted_by_the_day_its_readings_say) {
    tests::Collection collection;
    collection.add_enclosure("dry-wall");
    collection.add("lamp", tube, "tube");
    fade(collection);
    record::LampLives lives;
    const auto list = lamps_needed(collection.store(), lives, {"home"}, *day_of("2026-06-01"));
    ASSERT_TRUE(list);
    ASSERT_EQ(list->size(), 1U);
    const LampNeeded& need = list->front();
    EXPECT_EQ(need.lamp, "tube");
    EXPECT_EQ(need.what, "fluorescent tube, 54 W");
    EXPECT_EQ(need.enclosure_name, "Agamas and skinks, dry-stone wall");
    EXPECT_LE(need.by, need.leaves);
    EXPECT_EQ(need.price, 42.5);
    EXPECT_EQ(need.spare, "");
    EXPECT_EQ(to_json(*list)["lamps"][0]["by"], inference::to_text(need.by));
    EXPECT_NE(to_text(*list).find("42.50"), std::string::npos);
}

TEST(Shopping, one_in_store_is_promised_once) {
    tests::Collection collection;
    collection.add_enclosure("dry-wall");
    collection.add("lamp", tube, "tube");
    fade(collection);
    collection.add("lamp", {{"name", "Spare tube"}, {"lamp_kind", "fluorescent_tube"}, {"power_w", 54}},
                   "spare");
    collection.add("lamp", {{"name", "Another kind"}, {"lamp_kind", "halogen"}, {"power_w", 54}}, "other");
    record::LampLives lives;
    const auto list = lamps_needed(collection.store(), lives, {"home"}, *day_of("2026-06-01"));
    ASSERT_TRUE(list);
    ASSERT_EQ(list->size(), 1U);
    EXPECT_EQ(list->front().spare, "Spare tube");
}

TEST(Shopping, a_lamp_without_readings_is_not_guessed_at) {
    tests::Collection collection;
    collection.add_enclosure("dry-wall");
    collection.add("lamp", tube, "tube");
    record::LampLives lives;
    const auto list = lamps_needed(collection.store(), lives, {"home"}, *day_of("2026-06-01"));
    ASSERT_TRUE(list);
    EXPECT_TRUE(list->empty());
}

}  // namespace dapple::paper
