// A fix says so when it overheats or chills a basking place.
#include "advice/warmed.h"

#include <gtest/gtest.h>

#include "advice/fix.h"
#include "husbandry/verdict.h"
#include "pens.h"

namespace dapple::tests {
namespace {

// The pen with a heat lamp over its stone, whose animal is said to bask on surfaces of the given range.
scene::Enclosure heated(double heat_z_cm, double low_c, double high_c) {
    auto document = pen();
    document["lamps"].push_back({{"id", "heat"},
                                 {"name", "Heat lamp"},
                                 {"kind", "spot"},
                                 {"diameter_cm", 6},
                                 {"beam_deg", 40},
                                 {"centre_cm", {30, 30, heat_z_cm}},
                                 {"spectrum", "halogen"},
                                 {"output", {{"lux", 15000}, {"at_cm", 30}}},
                                 {"power_w", 50}});
    document["animals"] = {{{"species",
                             {{"id", "own"},
                              {"scientific_name", "Lacerta propria"},
                              {"back_height_cm", 4},
                              {"basking_surface_c", {low_c, high_c}}}},
                            {"band", {2.9, 7.4}}}};
    return parse(document);
}

std::vector<husbandry::AnimalJudgement> animals_of(const scene::Enclosure& enclosure) {
    return *husbandry::resolve_animals(enclosure);
}

TEST(Warmed, names_a_place_that_a_lowered_lamp_overheats) {
    const auto high = heated(58, 26, 30);
    const auto low = heated(40, 26, 30);
    const auto sentences = advice::warmed(high, low, animals_of(high));
    ASSERT_EQ(sentences.size(), 1u);
    for (const char* word : {"Flat stone", "above", "26-30 C", "Lacerta propria"}) {
        EXPECT_NE(sentences[0].find(word), std::string::npos) << sentences[0];
    }
    // The other way it cools towards what is wanted: nothing to warn of.
    EXPECT_TRUE(advice::warmed(low, high, animals_of(low)).empty());
}

TEST(Warmed, names_a_place_that_a_raised_lamp_chills) {
    const auto low = heated(40, 55, 60);
    const auto high = heated(58, 55, 60);
    const auto sentences = advice::warmed(low, high, animals_of(low));
    ASSERT_EQ(sentences.size(), 1u);
    EXPECT_NE(sentences[0].find("below"), std::string::npos) << sentences[0];
}

TEST(Warmed, says_nothing_where_little_changes_or_nothing_is_known_of_the_animal) {
    const auto as_it_is = heated(50, 26, 30);
    EXPECT_TRUE(advice::warmed(as_it_is, heated(49.5, 26, 30), animals_of(as_it_is)).empty());
    auto unknown = animals_of(as_it_is);
    unknown[0].species.basking_surface_c.reset();
    EXPECT_TRUE(advice::warmed(as_it_is, heated(40, 26, 30), unknown).empty());
}

TEST(Warmed, stands_in_the_words_and_the_answer_of_a_fix) {
    advice::Fix fix{};
    fix.enclosure = heated(40, 26, 30);
    fix.warmed = {
        "the surface of Flat stone goes from about 29 to 45 C, above the 26-30 C of Lacerta propria"};
    const auto answer = advice::to_json(std::vector<advice::Fix>{fix})["fixes"][0];
    EXPECT_EQ(answer.at("warmed").size(), 1u);
}

}  // namespace
}  // namespace dapple::tests
