// What a change does to an enclosure, and which changes there is no room for.
#include <gtest/gtest.h>

#include "advice/clearance.h"
#include "advice/fix.h"
#include "advice/pens.h"

namespace dapple::advice {

using nlohmann::json;
using scene::Enclosure;
using scene::Vec3;
using tests::parse;
using tests::pen;

namespace {

constexpr double cm = 0.01;

Change lift(const std::string& id, double by_cm) {
    return {Change::Kind::move_furniture, id, "", by_cm * cm * Vec3::UnitZ()};
}

Change carry(const std::string& id, const Vec3& by_cm) {
    return {Change::Kind::move_lamp, id, "", cm * by_cm};
}

const scene::BoxShape& box_of(const Enclosure& enclosure, std::size_t i) {
    return std::get<scene::BoxShape>(enclosure.furniture[i].shape);
}

json with(const char* list, const char* thing) {
    json document = pen();
    document[list].push_back(json::parse(thing));
    return document;
}

}  // namespace

TEST(Apply, a_raised_stone_takes_its_spot_along_and_no_other) {
    const auto after = apply(parse(pen()), lift("stone", 6));
    ASSERT_TRUE(after);
    EXPECT_NEAR(box_of(*after, 0).box.max.z(), 0.26, 1e-12);
    EXPECT_NEAR(after->spots[0].position.z(), 0.26, 1e-12);
    EXPECT_EQ(after->spots[1].position.z(), 0);
}

TEST(Apply, a_raised_branch_takes_along_a_spot_on_its_round_top) {
    json document = with("furniture", R"({"id": "branch", "shape": "cylinder", "from_cm": [50, 10, 20],
                         "to_cm": [70, 50, 20], "diameter_cm": 4, "material": "bark", "perch": true})");
    document["spots"].push_back({{"id", "perch"}, {"position_cm", {60, 30, 22}}});
    const auto after = apply(parse(document), lift("branch", 5));
    ASSERT_TRUE(after);
    EXPECT_NEAR(after->spots[2].position.z(), 0.27, 1e-12);
}

TEST(Apply, a_thing_that_is_not_there_cannot_be_changed) {
    EXPECT_FALSE(apply(parse(pen()), lift("ledge", 6)));
    EXPECT_FALSE(apply(parse(pen()), carry("ledge", {0, 0, 1})));
    EXPECT_FALSE(apply(parse(pen()), {Change::Kind::remove_screen, "ledge", ""}));
    EXPECT_FALSE(apply(parse(pen()), {Change::Kind::swap_lamps, "uv", "ledge"}));
}

TEST(Apply, a_stone_is_not_sunk_into_the_floor) {
    EXPECT_FALSE(apply(parse(pen()), lift("stone", -2)));
}

TEST(Apply, a_stone_is_not_raised_through_what_hangs_over_it) {
    const json document = with("furniture", R"({"id": "ledge", "shape": "box", "min_cm": [20, 20, 27],
                               "max_cm": [40, 40, 29], "material": "wood"})");
    EXPECT_TRUE(apply(parse(document), lift("stone", 2)));
    EXPECT_FALSE(apply(parse(document), lift("stone", 9)));
}

TEST(Apply, a_stone_is_not_raised_through_a_guard) {
    const json document =
        with("screens",
             R"({"id": "guard", "min_cm": [10, 10, 30], "max_cm": [50, 50, 30], "transmittance": 0.8})");
    EXPECT_TRUE(apply(parse(document), lift("stone", 5)));
    EXPECT_FALSE(apply(parse(document), lift("stone", 12)));
}

TEST(Apply, an_animal_is_not_lifted_too_near_to_a_lamp) {
    // The back is at 24 cm, the tube's glass at 55.2 cm; 15 cm of distance leave 16.2 cm.
    EXPECT_TRUE(apply(parse(pen()), lift("stone", 16)));
    EXPECT_FALSE(apply(parse(pen()), lift("stone", 17)));
}

TEST(Apply, a_lamp_is_not_hung_too_near_to_an_animal_but_may_leave_one_it_is_near_to) {
    EXPECT_FALSE(apply(parse(pen()), carry("uv", {0, 0, -17})));
    json near = pen();
    near["lamps"][0]["centre_cm"] = {30, 30, 35};
    EXPECT_TRUE(apply(parse(near), carry("uv", {0, 0, 3})));
    EXPECT_FALSE(apply(parse(near), carry("uv", {0, 0, -2})));
}

TEST(Apply, a_lamp_stays_on_its_side_of_the_lid) {
    const json document = with("screens", R"({"id": "lid", "min_cm": [0, 0, 60], "max_cm": [120, 60, 60],
                               "mesh": {"pitch_mm": 2, "wire_mm": 0.4}})");
    EXPECT_TRUE(apply(parse(document), carry("uv", {0, 0, 2})));
    EXPECT_FALSE(apply(parse(document), carry("uv", {0, 0, 8})));
    EXPECT_TRUE(apply(parse(pen()), carry("uv", {0, 0, 8})));  // nothing is in the way of an open top
}

TEST(Apply, a_lamp_stays_in_the_box_and_out_of_the_furniture) {
    EXPECT_TRUE(apply(parse(pen()), carry("uv", {50, 0, 0})));
    EXPECT_FALSE(apply(parse(pen()), carry("uv", {95, 0, 0})));
    const json document = with("furniture", R"({"id": "rock", "shape": "ellipsoid", "centre_cm": [70, 30, 50],
                               "radii_cm": [8, 8, 8], "material": "slate"})");
    EXPECT_FALSE(apply(parse(document), carry("uv", {30, 0, 0})));
}

TEST(Apply, an_overlap_that_was_there_is_no_reason_to_refuse) {
    // A rock half sunk into the back of the stone, as keepers stack them.
    const json document = with("furniture", R"({"id": "rock", "shape": "ellipsoid", "centre_cm": [30, 42, 10],
                               "radii_cm": [8, 8, 8], "material": "slate"})");
    EXPECT_TRUE(apply(parse(document), lift("stone", 4)));
}

TEST(Apply, a_moved_piece_does_not_bury_a_spot) {
    json document = pen();
    document["spots"].push_back({{"id", "ledge"}, {"position_cm", {55, 30, 0}}});
    const Change slide = {Change::Kind::move_furniture, "stone", "", Vec3(0.15, 0, 0)};
    EXPECT_TRUE(apply(parse(pen()), slide));
    EXPECT_FALSE(apply(parse(document), slide));
}

TEST(Apply, a_guard_that_keeps_the_animal_off_a_lamp_stays) {
    json document =
        with("screens",
             R"({"id": "guard", "min_cm": [10, 10, 30], "max_cm": [50, 50, 30], "transmittance": 0.8})");
    EXPECT_TRUE(apply(parse(document), {Change::Kind::remove_screen, "guard", ""}));
    document["lamps"][0]["centre_cm"] = {30, 30, 35};
    EXPECT_FALSE(apply(parse(document), {Change::Kind::remove_screen, "guard", ""}));
}

TEST(Apply, swapped_lamps_take_each_others_place_and_aim) {
    json document = with("lamps", R"({"id": "heat", "kind": "spot", "diameter_cm": 9, "beam_deg": 40,
                         "centre_cm": [90, 30, 54], "aim": [-0.6, 0, -0.8], "spectrum": "halogen",
                         "output": {"lux": 9000, "at_cm": 30}})");
    const auto after = apply(parse(document), {Change::Kind::swap_lamps, "uv", "heat"});
    ASSERT_TRUE(after);
    EXPECT_NEAR((after->lamps[0].centre - Vec3(0.9, 0.3, 0.54)).norm(), 0, 1e-12);
    EXPECT_NEAR((after->lamps[1].centre - Vec3(0.3, 0.3, 0.56)).norm(), 0, 1e-12);
    EXPECT_NEAR((std::get<scene::Spot>(after->lamps[1].shape).aim + Vec3::UnitZ()).norm(), 0, 1e-12);
    // The tube takes of the slanted aim what is square to its length.
    EXPECT_NEAR((std::get<scene::Tube>(after->lamps[0].shape).aim + Vec3::UnitZ()).norm(), 0, 1e-12);
}

TEST(Apply, a_swapped_document_reads_back_as_the_swapped_enclosure) {
    json document = with("lamps", R"({"id": "heat", "kind": "spot", "diameter_cm": 9, "beam_deg": 40,
                         "centre_cm": [90, 30, 54], "aim": [-0.6, 0, -0.8], "spectrum": "halogen",
                         "output": {"lux": 9000, "at_cm": 30}})");
    const auto after = apply(parse(document), {Change::Kind::swap_lamps, "uv", "heat"});
    ASSERT_TRUE(after);
    const Enclosure again = parse(scene::to_json(*after));
    EXPECT_NEAR((again.lamps[1].centre - after->lamps[1].centre).norm(), 0, 1e-9);
    EXPECT_NEAR(
        (std::get<scene::Spot>(again.lamps[1].shape).aim - std::get<scene::Spot>(after->lamps[1].shape).aim)
            .norm(),
        0, 1e-9);
}

TEST(Apply, a_document_without_its_screen_reads_back_without_it) {
    const json document =
        with("screens",
             R"({"id": "guard", "min_cm": [10, 10, 30], "max_cm": [50, 50, 30], "transmittance": 0.8})");
    const auto after = apply(parse(document), {Change::Kind::remove_screen, "guard", ""});
    ASSERT_TRUE(after);
    EXPECT_TRUE(parse(scene::to_json(*after)).screens.empty());
}

}  // namespace dapple::advice
