// Verdicts in computed light: facts of the trade (reference/checks/trade_checks.csv).
#include <gtest/gtest.h>

#include <stdexcept>
#include <string>

#include "husbandry/verdict.h"
#include "scene/document.h"

namespace dapple::husbandry {
namespace {

// 120 x 60 x 60 cm with a reflector tube and a halogen spot; the places of both along the box are given in cm.
scene::Enclosure room(double uv_x, double heat_x) {
    const std::string document = R"({
      "format": "dapple/enclosure@1", "id": "room", "size_cm": [120, 60, 60],
      "walls": {"floor": "dry_sand", "left": "pvc_black", "right": "pvc_black", "front": "float_glass",
                "back": "pvc_black", "top": "open"},
      "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4, "climbs": false, "zone": [3]}],
      "lamps": [
        {"id": "uv", "kind": "tube", "length_cm": 30, "diameter_cm": 1.6, "spread": {"forward_power": 2},
         "centre_cm": [)" + std::to_string(uv_x) +
                                 R"(, 30, 48], "along": [0, 1, 0], "aim": [0, 0, -1],
         "spectrum": "fluorescent_uvb_strong", "output": {"uvi": 6.0, "at_cm": 30}},
        {"id": "heat", "kind": "spot", "diameter_cm": 9, "beam_deg": 40,
         "centre_cm": [)" + std::to_string(heat_x) +
                                 R"(, 30, 58], "aim": [0, 0, -1], "spectrum": "halogen",
         "output": {"lux": 21000, "at_cm": 30}}],
      "furniture": [{"id": "stone", "name": "Flat stone", "shape": "box", "min_cm": [10, 20, 0],
                     "max_cm": [40, 40, 12], "material": "slate", "perch": true}],
      "spots": [{"id": "bask", "name": "Flat stone", "position_cm": [25, 30, 12], "role": "bask"}]})";
    const auto enclosure = scene::parse_enclosure(document);
    if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
    return *enclosure;
}

Verdict verdict_of(const scene::Enclosure& enclosure) {
    const auto judgement = judge(enclosure);
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return judgement->animals.at(0).verdict;
}

TEST(trade_fact, uv_and_heat_at_opposite_ends_leave_the_basking_animal_without_uv) {
    const Verdict apart = verdict_of(room(95, 25));
    EXPECT_EQ(apart.together.holds, false) << apart.together.why;
    EXPECT_EQ(apart.basking.holds, false) << apart.basking.why;
}

TEST(trade_fact, uv_and_heat_over_the_same_stone_fall_together) {
    const Verdict same = verdict_of(room(25, 25));
    EXPECT_EQ(same.together.holds, true) << same.together.why;
    EXPECT_EQ(same.basking.holds, true) << same.basking.why;
}

TEST(verdict_in_computed_light, is_the_same_every_time) {
    const auto enclosure = room(25, 25);
    EXPECT_EQ(to_text(*judge(enclosure)), to_text(*judge(enclosure)));
}

TEST(verdict_in_computed_light, a_box_without_lamps_is_dark_and_says_so) {
    scene::Enclosure dark = room(25, 25);
    dark.lamps.clear();
    const auto judgement = judge(dark);
    ASSERT_TRUE(judgement);
    EXPECT_EQ(judgement->spots[0].uvi, 0);
    EXPECT_EQ(judgement->animals[0].verdict.basking.holds, false);
    EXPECT_EQ(judgement->animals[0].verdict.together.holds, std::nullopt);
    EXPECT_NE(judgement->notes.at(0).find("no lamp"), std::string::npos);
}

TEST(verdict_in_computed_light, the_spot_on_the_stone_reads_no_more_than_its_reach) {
    const auto judgement = judge(room(25, 25));
    ASSERT_TRUE(judgement);
    // The spot under the middle of the tube is the brightest place there is; reach comes within half a cell of it.
    EXPECT_NEAR(judgement->animals[0].reach.quantiles.at(1), judgement->spots[0].uvi,
                0.05 * judgement->spots[0].uvi);
}

}  // namespace
}  // namespace dapple::husbandry
