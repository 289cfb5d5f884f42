// Changes beyond moving things, what they cost, and the library of lamps they draw on.
#include <gtest/gtest.h>

#include <numbers>

#include "advice/effort.h"
#include "advice/fix.h"
#include "advice/lamps.h"
#include "advice/pens.h"
#include "light/lamp.h"

namespace dapple::advice {

using nlohmann::json;
using scene::Vec3;
using tests::parse;
using tests::pen;
using Kind = Change::Kind;

namespace {

json with_spot_lamp() {
    json document = pen();
    document["lamps"].push_back(
        json::parse(R"({"id": "heat", "name": "Halogen", "kind": "spot", "diameter_cm": 9,
        "beam_deg": 40, "centre_cm": [60, 30, 56], "spectrum": "halogen", "output": {"lux": 9000, "at_cm": 30}})"));
    return document;
}

Change with_factor(Kind kind, const std::string& id, double factor) {
    Change change = {kind, id, ""};
    change.factor = factor;
    return change;
}

}  // namespace

TEST(Changes, a_lamp_is_tilted_towards_the_side_by_the_angle) {
    const double angle = std::numbers::pi / 9;
    const auto after = changed(parse(with_spot_lamp()), {Kind::tilt_lamp, "heat", "", angle * Vec3::UnitX()});
    ASSERT_TRUE(after);
    const Vec3 aim = std::get<scene::Spot>(after->lamps[1].shape).aim;
    EXPECT_NEAR(aim.x(), std::sin(angle), 1e-12);
    EXPECT_NEAR(aim.z(), -std::cos(angle), 1e-12);
}

TEST(Changes, a_tube_turns_about_its_own_length_only) {
    const auto enclosure = parse(pen());
    EXPECT_FALSE(changed(enclosure, {Kind::tilt_lamp, "uv", "", 0.3 * Vec3::UnitX()}));
    EXPECT_TRUE(changed(enclosure, {Kind::tilt_lamp, "uv", "", 0.3 * Vec3::UnitY()}));
}

TEST(Changes, a_dimmed_lamp_gives_its_share) {
    const auto enclosure = parse(with_spot_lamp());
    const auto after = changed(enclosure, with_factor(Kind::dim_lamp, "heat", 0.4));
    ASSERT_TRUE(after);
    EXPECT_NEAR(light::strength(after->lamps[1]), 0.4 * light::strength(enclosure.lamps[1]), 1e-12);
}

TEST(Changes, only_filaments_and_leds_are_dimmed) {
    const auto enclosure = parse(with_spot_lamp());
    EXPECT_FALSE(can_be_dimmed(enclosure.lamps[0]));
    EXPECT_TRUE(can_be_dimmed(enclosure.lamps[1]));
}

TEST(Changes, a_renewed_lamp_is_as_strong_as_it_was_when_new) {
    json document = pen();
    document["lamps"][0]["age_factor"] = 0.5;
    document["lamps"][0]["installed"] = "2025-01-01";
    const auto after = changed(parse(document), {Kind::renew_lamp, "uv", ""});
    ASSERT_TRUE(after);
    EXPECT_NEAR(light::strength(after->lamps[0]), light::strength(parse(pen()).lamps[0]), 1e-12);
    EXPECT_TRUE(after->lamps[0].installed.empty());
}

TEST(Changes, a_lamp_of_another_model_takes_the_place_and_the_aim) {
    const auto enclosure = parse(with_spot_lamp());
    const auto after = changed(enclosure, {Kind::replace_lamp, "heat", "mercury_vapour_125"});
    ASSERT_TRUE(after);
    EXPECT_EQ(after->lamps[1].centre, enclosure.lamps[1].centre);
    EXPECT_EQ(after->lamps[1].power_w, 125);
    EXPECT_FALSE(
        changed(enclosure, {Kind::replace_lamp, "heat", "tube_weak_55"}));  // a tube fits no lampholder
}

TEST(Changes, a_lamp_of_another_model_keeps_that_models_distance) {
    // The stone's back is 32 cm below the lamp: enough for the 20 cm of a halogen, not when it hangs 8 cm lower.
    json document = with_spot_lamp();
    document["lamps"][1]["centre_cm"] = {30, 30, 46};
    const auto enclosure = parse(document);
    EXPECT_TRUE(apply(enclosure, {Kind::replace_lamp, "heat", "halogen_50"}));
    EXPECT_FALSE(apply(enclosure, {Kind::replace_lamp, "heat", "mercury_vapour_125"}));
}

TEST(Changes, thinned_leaves_and_a_wider_mesh_are_written_to_the_document) {
    json document = pen();
    document["furniture"].push_back(json::parse(R"({"id": "fern", "shape": "foliage", "min_cm": [20, 20, 30],
                                                    "max_cm": [40, 40, 40], "leaf_area_density": 5})"));
    document["screens"] = json::parse(R"([{"id": "lid", "min_cm": [0, 0, 60], "max_cm": [120, 60, 60],
                                           "mesh": {"pitch_mm": 2, "wire_mm": 0.5}}])");
    Change wider = {Kind::replace_screen, "lid", ""};
    wider.mesh = {0.0064, 0.0007};
    const auto after = changed(parse(document), {with_factor(Kind::thin_foliage, "fern", 0.2), wider});
    ASSERT_TRUE(after);
    const auto again = parse(scene::to_json(*after));
    EXPECT_NEAR(again.foliage[0].leaf_area_density, 1, 1e-9);
    EXPECT_NEAR(std::get<scene::Mesh>(again.screens[0].kind).pitch, 0.0064, 1e-12);
}

TEST(Changes, an_added_lamp_and_roof_read_back_from_the_document) {
    const auto after = apply(parse(pen()), {{Kind::add_lamp, "new", "halogen_50", Vec3(0.5, 0.3, 0.55)},
                                            {Kind::add_shade, "roof-2", "", Vec3(0.6, 0.2, 0.12)}});
    ASSERT_TRUE(after);
    const auto again = parse(scene::to_json(*after));
    ASSERT_EQ(again.lamps.size(), 2U);
    EXPECT_NEAR(light::strength(again.lamps[1]), light::strength(after->lamps[1]), 1e-12);
    EXPECT_EQ(again.furniture.back().id, "roof-2");
}

TEST(Changes, a_piece_is_not_slid_away_from_under_another) {
    json document = pen();
    document["furniture"].push_back(json::parse(R"({"id": "pot", "shape": "box", "min_cm": [22, 22, 20],
        "max_cm": [26, 26, 26], "material": "wood"})"));
    const auto enclosure = parse(document);
    EXPECT_FALSE(apply(enclosure, {Kind::move_furniture, "stone", "", Vec3(0.04, 0, 0)}));
    EXPECT_TRUE(apply(enclosure, {Kind::move_furniture, "pot", "", Vec3(0.04, 0, 0)}));
}

TEST(Effort, is_read_with_defaults_for_what_is_left_out) {
    const auto effort =
        parse_effort(R"({"format": "dapple/effort@1", "move_lamp": 40, "per_cm": 0})", "e.json");
    ASSERT_TRUE(effort);
    EXPECT_EQ(minutes({Kind::move_lamp, "uv", "", Vec3(0, 0, 0.1)}, *effort), 40);
    EXPECT_EQ(minutes({Kind::swap_lamps, "uv", "heat"}, *effort), Effort{}.swap_lamps);
}

TEST(Effort, names_the_place_of_what_is_wrong_and_the_nearest_field) {
    const auto effort = parse_effort(
        R"({"format": "dapple/effort@1", "move_lam": 4, "per_cm": -1, "swap_lamps": "ten"})", "e.json");
    ASSERT_FALSE(effort);
    const std::string text = to_text(effort.error());
    EXPECT_NE(text.find("/move_lam"), std::string::npos) << text;
    EXPECT_NE(text.find("\"move_lamp\", which is nearest"), std::string::npos) << text;
    EXPECT_NE(text.find("/per_cm: found -1"), std::string::npos) << text;
    EXPECT_NE(text.find("/swap_lamps"), std::string::npos) << text;
}

TEST(Effort, written_and_read_again_is_the_same) {
    Effort effort;
    effort.add_lamp = 12;
    const auto again = parse_effort(to_json(effort).dump(), "e.json");
    ASSERT_TRUE(again);
    EXPECT_EQ(to_json(*again), to_json(effort));
}

TEST(Effort, decides_which_fix_is_cheapest) {
    json document = pen();
    document["furniture"][0]["max_cm"][2] = 4;
    document["spots"][0]["position_cm"][2] = 4;
    FixOptions options;
    options.effort.move_furniture = 1000;
    const auto fixes = find_fixes(parse(document), options);
    ASSERT_TRUE(fixes);
    ASSERT_FALSE(fixes->empty());
    EXPECT_NE(fixes->front().changes.front().kind, Kind::move_furniture) << fixes->front().words;
}

TEST(LampLibrary, says_of_every_lamp_where_its_numbers_come_from) {
    ASSERT_GE(lamp_models().size(), 15U);
    for (const LampModel& model : lamp_models()) {
        SCOPED_TRACE(model.id);
        EXPECT_NE(model.source.find("memory"), std::string::npos);
        EXPECT_TRUE(model.synthetic);
        EXPECT_GE(model.safe_distance, 0.15);
        EXPECT_GT(light::strength(model.lamp), 0);
        EXPECT_EQ(gives_uv(model.lamp), model.uv);
    }
}

TEST(LampLibrary, refuses_a_lamp_by_its_place_in_the_file) {
    const auto models = parse_lamp_models(R"({"format": "dapple/lamps@1", "lamps": [{"id": "x", "name": "x",
        "safe_distance_cm": 15, "source": "s", "confidence": "low", "lamp": {"kind": "tube"}}]})",
                                          "lamps.json");
    ASSERT_FALSE(models);
    EXPECT_NE(to_text(models.error()).find("/lamps/0/lamp"), std::string::npos) << to_text(models.error());
}

}  // namespace dapple::advice
