// A glance against a judgement in full: it may be off by a little, and must not be off by more.
#include "advice/glance.h"

#include <gtest/gtest.h>

#include "advice/pens.h"
#include "advice/refine.h"
#include "husbandry/judging.h"

namespace dapple::advice {

using nlohmann::json;
using scene::Vec3;
using tests::parse;
using Kind = Change::Kind;

namespace {

json two_lamps(const char* wall) {
    json document = tests::pen();
    document["walls"] = {{"floor", wall}, {"left", wall}, {"right", wall}, {"front", wall}, {"back", wall}};
    document["lamps"].push_back(
        json::parse(R"({"id": "sun", "kind": "spot", "diameter_cm": 11, "beam_deg": 40,
        "centre_cm": [60, 30, 58], "spectrum": "metal_halide", "output": {"uvi": 4, "at_cm": 30}})"));
    document["screens"] = json::parse(R"([{"id": "guard", "min_cm": [10, 10, 50], "max_cm": [50, 50, 50],
                                           "mesh": {"pitch_mm": 6, "wire_mm": 0.8}}])");
    document["furniture"].push_back(json::parse(R"({"id": "fern", "shape": "foliage", "min_cm": [24, 20, 32],
        "max_cm": [50, 40, 44], "leaf_area_density": 2})"));
    return document;
}

double off_at_the_spots(const scene::Enclosure& enclosure, const Glance& glance,
                        const std::vector<Change>& changes) {
    const auto outlook = glance.look(changes);
    const auto judged = husbandry::judge(*changed(enclosure, changes));
    double most = 0;
    for (std::size_t s = 0; s < judged->spots.size(); ++s) {
        constexpr double floor_uvi = 0.05;  // a hand-held meter's
        most = std::max(
            most, std::abs(std::log((outlook->uvi[s] + floor_uvi) / (judged->spots[s].uvi + floor_uvi))));
    }
    return most;
}

Change factor(Kind kind, const std::string& id, double by) {
    Change change = {kind, id, ""};
    change.factor = by;
    return change;
}

}  // namespace

TEST(Glance, sees_what_a_judgement_sees_for_every_kind_of_change) {
    Change mesh = {Kind::replace_screen, "guard", ""};
    mesh.mesh = {0.0025, 0.0005};
    const std::vector<std::vector<Change>> changes = {
        {},
        {{Kind::move_furniture, "stone", "", Vec3(0, 0, 0.06)}},
        {{Kind::move_lamp, "sun", "", Vec3(-0.12, 0, 0)}},
        {{Kind::tilt_lamp, "sun", "", Vec3(-0.4, 0, 0)}},
        {{Kind::swap_lamps, "uv", "sun"}},
        {{Kind::remove_screen, "guard", ""}},
        {mesh},
        {factor(Kind::thin_foliage, "fern", 0.2)},
        {factor(Kind::dim_lamp, "sun", 0.5)},
        {{Kind::replace_lamp, "sun", "metal_halide_70"}},
        {{Kind::add_lamp, "new", "tube_mid_55", Vec3(0.5, 0.4, 0.55)}},
        {{Kind::add_shade, "new", "", Vec3(0.9, 0.3, 0.3)}},
        {{Kind::move_furniture, "stone", "", Vec3(0, 0, 0.06)},
         {Kind::move_lamp, "uv", "", Vec3(0, 0, 0.03)}}};
    for (const auto& [wall, allowed] : {std::pair("black", 0.05), std::pair("pvc_white", 0.12)}) {
        // Black walls leave direct light, which the kernel knows to about 1 % a lamp; of light reflected by white walls
        // (a tenth of the UV) a move changes up to half, and two lamps need not be turned to alike.
        const auto enclosure = parse(two_lamps(wall));
        const light::Field field(enclosure);
        const Glance glance(field, *husbandry::resolve_animals(enclosure), {}, {});
        for (const auto& change : changes) {
            SCOPED_TRACE(std::string(wall) + ", " +
                         (change.empty() ? "nothing" : std::string(name(change.front().kind))));
            // What a new lamp will make the walls give is only guessed from the others.
            const bool added = !change.empty() && change.front().kind == Kind::add_lamp;
            EXPECT_LT(off_at_the_spots(enclosure, glance, change), added ? 2 * allowed : allowed);
        }
    }
}

TEST(Glance, agrees_with_the_verdict_part_by_part) {
    for (const char* wall : {"black", "pvc_white"}) {
        const auto enclosure = parse(two_lamps(wall));
        const light::Field field(enclosure);
        const Glance glance(field, *husbandry::resolve_animals(enclosure), {}, {});
        EXPECT_TRUE(glance.at({})->agrees_with(*husbandry::judge(enclosure)));
    }
}

TEST(Glance, trimmed_by_a_judgement_reads_what_was_judged) {
    const auto enclosure = parse(two_lamps("pvc_white"));
    const light::Field field(enclosure);
    const Glance glance(field, *husbandry::resolve_animals(enclosure), {}, {});
    const std::vector<Change> change = {{Kind::move_lamp, "sun", "", Vec3(-0.12, 0, 0)}};
    const auto outlook = glance.look(change);
    const auto judged = husbandry::judge(*changed(enclosure, change));
    const Trim trim = glance.trim(*outlook, *judged);
    EXPECT_NEAR((outlook->uvi[0] + 0.02) * trim.spots[0], judged->spots[0].uvi + 0.02, 1e-9);
}

TEST(Refine, finds_the_bottom_of_a_valley_and_stops_at_whole_steps) {
    const std::vector<Range> ranges = {{0, 0.4, 0.01}, {0, 0.6, 0.01}, {0, 0, 0}};
    double best = 1e9;
    std::vector<double> at;
    refine({0.04, 0.04, 7}, ranges, [&](const std::vector<double>& x) {
        EXPECT_EQ(x[2], 7);
        // A step besides the valley, as a part of a verdict that holds or not.
        const double price = std::abs(x[0] - 0.123) + 2 * std::abs(x[1] - 0.211) + (x[0] < 0.1 ? 5 : 0);
        if (price < best && in_whole_steps(x, ranges)) {
            best = price;
            at = x;
        }
        return price;
    });
    ASSERT_EQ(at.size(), 3U);
    EXPECT_NEAR(at[0], 0.12, 0.0101);  // the nearest whole step, or its neighbour
    EXPECT_NEAR(at[1], 0.21, 0.0101);
}

}  // namespace dapple::advice
