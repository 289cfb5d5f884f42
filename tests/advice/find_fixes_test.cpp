// Constructed faults, and the change a keeper would make.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "advice/fix.h"
#include "advice/pens.h"
#include "advice/standing.h"

namespace dapple::advice {

using nlohmann::json;
using tests::parse;
using tests::pen;

namespace {

std::vector<Fix> fixes_of(const json& document) {
    auto fixes = find_fixes(parse(document));
    if (!fixes) throw std::runtime_error(to_text(fixes.error()));
    return *fixes;
}

std::string all_words(const std::vector<Fix>& fixes) {
    std::string words;
    for (const Fix& fix : fixes) words += fix.words + "\n";
    return words;
}

const Fix* first_with(const std::vector<Fix>& fixes, Change::Kind kind) {
    const auto found = std::find_if(fixes.begin(), fixes.end(),
                                    [&](const Fix& fix) { return fix.changes.front().kind == kind; });
    return found == fixes.end() ? nullptr : &*found;
}

bool holds(const Fix& fix) {
    return standing_of(fix.after, fix.enclosure).everything_holds();
}

json low_stone() {
    json document = pen();
    document["furniture"][0]["max_cm"][2] = 4;
    document["spots"][0]["position_cm"][2] = 4;
    return document;
}

json with_lid_of(double pitch_mm, double wire_mm) {
    json document = pen();
    document["lamps"][0]["centre_cm"][2] = 62;
    document["screens"] = {{{"id", "lid"},
                            {"name", "Mesh lid"},
                            {"min_cm", {0, 0, 60}},
                            {"max_cm", {120, 60, 60}},
                            {"mesh", {{"pitch_mm", pitch_mm}, {"wire_mm", wire_mm}}}}};
    return document;
}

}  // namespace

TEST(FindFixes, leaves_a_good_enclosure_alone) {
    const auto fixes = fixes_of(pen());
    EXPECT_TRUE(fixes.empty()) << all_words(fixes);
}

TEST(FindFixes, leaves_an_enclosure_without_animals_alone) {
    json document = pen();
    document.erase("animals");
    EXPECT_TRUE(fixes_of(document).empty());
}

TEST(FindFixes, raises_a_stone_that_lies_too_low) {
    const auto fixes = fixes_of(low_stone());
    ASSERT_FALSE(fixes.empty());
    EXPECT_TRUE(holds(fixes.front())) << all_words(fixes);
    EXPECT_EQ(fixes.front().words.rfind("Raise the flat stone ", 0), 0U) << all_words(fixes);
    EXPECT_LT(fixes.front().before.spots[0].uvi, 2.9);
    EXPECT_GE(fixes.front().after.spots[0].uvi, 2.9);
}

TEST(FindFixes, says_what_the_meter_reads_before_and_after) {
    const auto fixes = fixes_of(low_stone());
    ASSERT_FALSE(fixes.empty());
    const Fix& fix = fixes.front();
    char expected[64];
    std::snprintf(expected, sizeof expected, "Flat stone %.1f -> %.1f", fix.before.spots[0].uvi,
                  fix.after.spots[0].uvi);
    EXPECT_NE(fix.words.find(expected), std::string::npos) << fix.words;
}

TEST(FindFixes, judges_a_fix_as_check_would_judge_its_document) {
    for (const Fix& fix : fixes_of(low_stone())) {
        const auto again = husbandry::judge(parse(scene::to_json(fix.enclosure)));
        ASSERT_TRUE(again);
        for (std::size_t i = 0; i < again->spots.size(); ++i) {
            // The document carries cm to many digits; the same judge then gives the same number.
            EXPECT_NEAR(again->spots[i].uvi, fix.after.spots[i].uvi, 1e-6 * (1 + fix.after.spots[i].uvi));
        }
        EXPECT_EQ(again->animals[0].verdict.overall.holds, fix.after.animals[0].verdict.overall.holds);
    }
}

TEST(FindFixes, swaps_lamps_that_hang_at_each_others_place) {
    json document = pen();
    document["lamps"][0]["centre_cm"] = {92, 30, 56};
    document["lamps"].push_back(
        json::parse(R"({"id": "heat", "name": "Heat lamp", "kind": "spot", "diameter_cm": 9,
        "beam_deg": 60, "centre_cm": [30, 30, 56], "aim": [0, 0, -1], "spectrum": "led_white",
        "output": {"lux": 5000, "at_cm": 30}})"));
    const auto fixes = fixes_of(document);
    const Fix* swap = first_with(fixes, Change::Kind::swap_lamps);
    ASSERT_NE(swap, nullptr) << all_words(fixes);
    EXPECT_EQ(swap->words.rfind("Swap the places of the UV tube and the heat lamp", 0), 0U);
    EXPECT_GT(swap->after.spots[0].uvi, 2.9);
    EXPECT_TRUE(swap->after.animals[0].verdict.basking.holds.value_or(false));
}

TEST(FindFixes, takes_out_a_lid_that_is_too_fine) {
    const auto fixes =
        fixes_of(with_lid_of(1.0, 0.5));  // passes a quarter of the light that falls straight on it
    const Fix* open = first_with(fixes, Change::Kind::remove_screen);
    ASSERT_NE(open, nullptr) << all_words(fixes);
    EXPECT_EQ(open->words.rfind("Take out the mesh lid (and close the top in another way)", 0), 0U)
        << open->words;
    EXPECT_GT(open->after.spots[0].uvi, 3 * open->before.spots[0].uvi);
}

TEST(FindFixes, lists_what_makes_everything_hold_before_what_merely_helps_and_cheapest_first) {
    for (const json& document : {low_stone(), with_lid_of(1.0, 0.5)}) {
        const auto fixes = fixes_of(document);
        for (std::size_t i = 1; i < fixes.size(); ++i) {
            EXPECT_GE(holds(fixes[i - 1]), holds(fixes[i]));
            if (holds(fixes[i - 1]) && holds(fixes[i])) {
                EXPECT_LE(fixes[i - 1].effort, fixes[i].effort);
            }
        }
    }
}

TEST(FindFixes, never_makes_another_part_worse_without_saying_so) {
    for (const json& document : {low_stone(), with_lid_of(1.0, 0.5)}) {
        for (const Fix& fix : fixes_of(document)) {
            const bool said = fix.words.find("Worse than before: ") != std::string::npos;
            EXPECT_EQ(said, !worsened(fix.before, fix.after, fix.enclosure).empty()) << fix.words;
        }
    }
}

TEST(FindFixes, every_fix_has_room) {
    const auto enclosure = parse(low_stone());
    for (const Fix& fix : fixes_of(low_stone()))
        EXPECT_TRUE(apply(enclosure, fix.changes.front())) << fix.words;
}

TEST(FindFixes, passes_on_why_an_enclosure_cannot_be_judged) {
    json document = pen();
    document["animals"][0]["species"] = "nessie_unheard_of";
    const auto enclosure = scene::parse_enclosure(document.dump());
    if (!enclosure) GTEST_FAIL() << to_text(enclosure.error());
    const auto fixes = find_fixes(*enclosure);
    ASSERT_FALSE(fixes.has_value());
    EXPECT_FALSE(fixes.error().empty());
}

TEST(FixJson, has_every_field_of_the_contract) {
    const json answer = to_json(fixes_of(low_stone()));
    ASSERT_TRUE(answer.contains("fixes"));
    ASSERT_FALSE(answer["fixes"].empty());
    for (const json& fix : answer["fixes"]) {
        EXPECT_TRUE(fix["words"].is_string());
        EXPECT_GT(fix["effort"].get<double>(), 0);
        EXPECT_FALSE(fix["changes"].empty());
        EXPECT_EQ(fix["enclosure"]["format"], "dapple/enclosure@1");
        for (const char* when : {"before", "after"}) {
            EXPECT_EQ(fix[when]["enclosure"], "pen");
            EXPECT_EQ(fix[when]["spots"].size(), 2U);
            EXPECT_EQ(fix[when]["animals"].size(), 1U);
        }
    }
    const json& change = answer["fixes"][0]["changes"][0];
    EXPECT_EQ(change["kind"], "move_furniture");
    EXPECT_EQ(change["id"], "stone");
    EXPECT_EQ(change["by_cm"].size(), 3U);
    EXPECT_EQ(change["by_cm"][2].get<double>(), std::round(change["by_cm"][2].get<double>()));  // whole cm
}

}  // namespace dapple::advice
