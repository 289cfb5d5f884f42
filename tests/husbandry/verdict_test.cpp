// Verdicts in light known in closed form.
#include "husbandry/verdict.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "husbandry/judging.h"
#include "made_of.h"

namespace dapple::husbandry {
namespace {

using scene::Enclosure;
using scene::Role;
using scene::Vec3;
using spectrum::Quantity;

using At = std::function<double(const Vec3&)>;

// UVI and warmth as functions of place; D3-effective and actinic irradiance in the proportion of a UVB lamp.
Light light_of(
    const At& uvi, const At& warmth = [](const Vec3&) { return 0.0; }, double d3_to_erythemal = 2,
    double uvc = 0) {
    Light light;
    light.values = [=](std::span<const Vec3> points, Quantity quantity, const light::Facing& facing) {
        EXPECT_EQ(facing.kind == light::Facing::Kind::up, quantity == Quantity::irradiance);
        std::vector<double> values;
        for (const Vec3& p : points) values.push_back(quantity == Quantity::uvi ? uvi(p) : warmth(p));
        return values;
    };
    light.aimed = [=](const Vec3& p) {
        const double erythemal = uvi(p) / 40;
        const double uvb = 2 * erythemal;
        return Reading{uvi(p), erythemal, d3_to_erythemal * erythemal, 0.5 * erythemal, uvc, uvb, 0,
                       0,      warmth(p)};
    };
    return light;
}

// Falls tenfold every `m` metres to the right from `most` at the left wall: every step of a log axis has room.
At falling(double most, double m) {
    return [=](const Vec3& p) { return most * std::pow(10, -p.x() / m); };
}
At even(double uvi) {
    return [=](const Vec3&) { return uvi; };
}

scene::Place spot(const std::string& id, const Vec3& position, Role role, const std::string& animal = "") {
    return {id, "", position, std::nullopt, role, animal};
}

scene::Animal animal_of_zone(const std::vector<int>& zones) {
    scene::Animal animal;
    animal.species = "own";
    animal.definition = R"({"id": "own", "scientific_name": "Lacerta propria", "back_height_cm": 4})";
    animal.zones = zones;
    return animal;
}

Enclosure home_of_zone(const std::vector<int>& zones) {
    Enclosure e = tests::box_of(tests::opaque("wood"));
    e.animals = {animal_of_zone(zones)};
    return e;
}

Judgement judged(const Enclosure& e, const Light& light, const JudgeOptions& options = {}) {
    auto animals = resolve_animals(e);
    EXPECT_TRUE(animals) << to_text(animals.error());
    return judge_in(light, e, *animals, options);
}

Verdict verdict_on(const Enclosure& e, const Light& light) {
    return judged(e, light).animals.at(0).verdict;
}

bool mentions(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}
bool any_mentions(const std::vector<std::string>& notes, const std::string& words) {
    return std::any_of(notes.begin(), notes.end(), [&](const std::string& n) { return mentions(n, words); });
}

// ---- basking ------------------------------------------------------------------------------------------------
TEST(basking, holds_when_every_bask_spot_reads_inside_the_band) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("a", {0.1, 0.3, 0}, Role::bask), spot("b", {0.5, 0.3, 0}, Role::bask)};
    const Verdict v = verdict_on(e, light_of(even(3.1)));
    EXPECT_EQ(v.basking.holds, true);
    EXPECT_TRUE(mentions(v.basking.why, "3.1 UVI")) << v.basking.why;
    EXPECT_TRUE(mentions(v.basking.why, "low end of 2.9-7.4")) << v.basking.why;
}

TEST(basking, fails_when_one_spot_is_below_or_above) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("a", {0.1, 0.3, 0}, Role::bask), spot("b", {1.1, 0.3, 0}, Role::bask)};
    EXPECT_EQ(verdict_on(e, light_of(falling(5, 1))).basking.holds, false);
    EXPECT_EQ(verdict_on(e, light_of(even(7.5))).basking.holds, false);
}

TEST(basking, cannot_be_judged_without_a_bask_spot_or_a_band) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("cool", {0.1, 0.3, 0}, Role::retreat)};
    EXPECT_EQ(verdict_on(e, light_of(even(4))).basking.holds, std::nullopt);
    Enclosure unknown = home_of_zone({});
    unknown.spots = {spot("a", {0.1, 0.3, 0}, Role::bask)};
    const Judgement judgement = judged(unknown, light_of(even(4)));
    EXPECT_EQ(judgement.animals[0].verdict.basking.holds, std::nullopt);
    EXPECT_TRUE(judgement.animals[0].states.empty());
    EXPECT_TRUE(any_mentions(judgement.notes, "zone of Lacerta propria is not known"));
}

TEST(basking, a_spot_that_names_another_animal_is_not_its_own) {
    Enclosure e = home_of_zone({3});
    e.animals.push_back(animal_of_zone({1}));
    e.animals[1].species = "other";
    e.animals[1].definition = R"({"id": "other", "back_height_cm": 10})";
    e.spots = {spot("bright", {0.1, 0.3, 0}, Role::bask, "own"),
               spot("dim", {1.1, 0.3, 0}, Role::bask, "other")};
    const Judgement judgement = judged(e, light_of(falling(5, 0.5)));
    EXPECT_EQ(judgement.animals[0].verdict.basking.holds, true);
    EXPECT_EQ(judgement.animals[1].verdict.basking.holds, true);
    EXPECT_EQ(judgement.animals[0].states.count("dim"), 0u);
    EXPECT_DOUBLE_EQ(judgement.spots[1].point.z(), 0.10) << "read at the back of its own animal";
}

TEST(basking, an_animal_between_zones_is_told_when_it_basks_between_band_and_ceiling) {
    Enclosure e = home_of_zone({3, 4});
    e.spots = {spot("a", {0.1, 0.3, 0}, Role::bask)};
    const Verdict v = verdict_on(e, light_of(even(8)));
    EXPECT_EQ(v.basking.holds, false);
    EXPECT_TRUE(mentions(v.basking.why, "not above the ceiling 9.5")) << v.basking.why;
    EXPECT_EQ(v.ceiling.holds, true);
}

// ---- retreat ------------------------------------------------------------------------------------------------
TEST(retreat, holds_with_a_dark_place_and_a_tenth_of_shade) {
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(falling(5, 0.5))).retreat.holds, true);
}

TEST(retreat, fails_where_no_place_is_dark_enough) {
    const Verdict v = verdict_on(home_of_zone({3}), light_of(falling(5, 1)));
    EXPECT_EQ(v.retreat.holds, false);
    EXPECT_TRUE(mentions(v.retreat.why, "0.3")) << v.retreat.why;
}

TEST(retreat, fails_where_the_shade_is_too_small_but_not_for_an_animal_of_the_shade) {
    const At dark_strip = [](const Vec3& p) {
        return p.x() > 1.14 ? 0.1 : 0.75;
    };  // a twentieth of the floor
    EXPECT_EQ(verdict_on(home_of_zone({2}), light_of(dark_strip)).retreat.holds, false);
    EXPECT_EQ(verdict_on(home_of_zone({1}), light_of(dark_strip)).retreat.holds, true);
}

TEST(retreat, a_named_retreat_counts_though_it_lies_in_no_reach) {
    Enclosure e = home_of_zone({1});
    e.spots = {spot("burrow", {0.6, 0.3, 0}, Role::retreat)};
    e.spots[0].height = 0.3;
    const At dark_up_there = [](const Vec3& p) { return p.z() > 0.2 ? 0.0 : 0.5; };
    const Verdict v = verdict_on(e, light_of(dark_up_there));
    EXPECT_EQ(v.retreat.holds, true);
    EXPECT_TRUE(mentions(v.retreat.why, "burrow")) << v.retreat.why;
}

TEST(retreat, cannot_be_judged_where_the_animal_finds_no_place) {
    Enclosure e = home_of_zone({3});
    e.furniture = {tests::stone({0, 0, 0}, {1.2, 0.6, 0.6}, false)};
    const Verdict v = verdict_on(e, light_of(even(4)));
    EXPECT_EQ(v.retreat.holds, std::nullopt);
    EXPECT_EQ(v.overall.holds, std::nullopt);
}

// ---- ceiling ------------------------------------------------------------------------------------------------
TEST(ceiling, holds_up_to_the_top_of_the_band) {
    EXPECT_EQ(verdict_on(home_of_zone({2}), light_of(even(3.0))).ceiling.holds, true);
}

TEST(ceiling, fails_where_one_place_is_above_and_names_it) {
    Enclosure e = home_of_zone({2});
    e.furniture = {tests::stone({0.9, 0.3, 0}, {1.1, 0.5, 0.2}, true)};
    const Verdict v = verdict_on(e, light_of([](const Vec3& p) { return p.z() > 0.2 ? 4.0 : 1.0; }));
    EXPECT_EQ(v.ceiling.holds, false);
    EXPECT_TRUE(mentions(v.ceiling.why, "Flat stone")) << v.ceiling.why;
    EXPECT_TRUE(mentions(v.ceiling.why, "4.0 UVI")) << v.ceiling.why;
}

TEST(ceiling, a_climber_meets_what_a_walker_does_not) {
    Enclosure e = home_of_zone({2});
    const Light light = light_of([](const Vec3& p) { return p.z() > 0.4 ? 5.0 : 1.0; });
    EXPECT_EQ(verdict_on(e, light).ceiling.holds, true);
    e.animals[0].climbs = true;
    const Verdict v = verdict_on(e, light);
    EXPECT_EQ(v.ceiling.holds, false);
    EXPECT_TRUE(mentions(v.ceiling.why, "wall")) << v.ceiling.why;
}

TEST(ceiling, between_two_zones_is_that_of_the_higher) {
    EXPECT_EQ(verdict_on(home_of_zone({2, 3}), light_of(even(7))).ceiling.holds, true);
    EXPECT_EQ(verdict_on(home_of_zone({2, 3}), light_of(even(7.5))).ceiling.holds, false);
}

TEST(ceiling, cannot_be_judged_without_a_band) {
    EXPECT_EQ(verdict_on(home_of_zone({}), light_of(even(4))).ceiling.holds, std::nullopt);
}

TEST(ceiling, a_band_set_for_the_animal_is_its_ceiling) {
    Enclosure e = home_of_zone({4});
    e.animals[0].band = {1.0, 2.0};
    EXPECT_EQ(verdict_on(e, light_of(even(2.1))).ceiling.holds, false);
}

// ---- gradient -----------------------------------------------------------------------------------------------
TEST(gradient, holds_where_every_step_from_retreat_to_band_has_room) {
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(falling(6, 0.5))).gradient.holds, true);
}

TEST(gradient, fails_at_a_hole_and_says_between_which_readings) {
    const At two_levels = [](const Vec3& p) { return p.x() < 0.4 ? 4.0 : 0.1; };
    const Verdict v = verdict_on(home_of_zone({3}), light_of(two_levels));
    EXPECT_EQ(v.gradient.holds, false);
    EXPECT_TRUE(mentions(v.gradient.why, "from 0.2 to 2.9 UVI")) << v.gradient.why;
}

TEST(gradient, fails_where_the_band_is_out_of_reach) {
    const Verdict v = verdict_on(home_of_zone({3}), light_of(falling(1.0, 0.5)));
    EXPECT_EQ(v.gradient.holds, false);
    EXPECT_TRUE(mentions(v.gradient.why, "to 2.9 UVI")) << v.gradient.why;
}

TEST(gradient, does_not_arise_for_a_band_that_begins_in_the_dark) {
    EXPECT_EQ(verdict_on(home_of_zone({1}), light_of(falling(0.6, 0.5))).gradient.holds, std::nullopt);
}

// ---- together -----------------------------------------------------------------------------------------------
At warm_left() {
    return [](const Vec3& p) { return 400 * std::exp(-p.x() / 0.2); };
}

TEST(together, holds_where_uv_and_warmth_fall_on_the_same_end) {
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(falling(6, 0.5), warm_left())).together.holds, true);
}

TEST(together, fails_where_they_fall_on_opposite_ends_and_names_both_places) {
    const At uv_right = [](const Vec3& p) { return 6 * std::pow(10, (p.x() - 1.2) / 0.5); };
    const Verdict v = verdict_on(home_of_zone({3}), light_of(uv_right, warm_left()));
    EXPECT_EQ(v.together.holds, false);
    EXPECT_TRUE(mentions(v.together.why, "right")) << v.together.why;
    EXPECT_TRUE(mentions(v.together.why, "left")) << v.together.why;
}

TEST(together, holds_where_the_uv_is_even_everywhere) {
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(even(3), warm_left())).together.holds, true);
}

TEST(together, cannot_be_judged_without_warmth_or_without_uv) {
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(falling(6, 0.5), even(20))).together.holds,
              std::nullopt);
    EXPECT_EQ(verdict_on(home_of_zone({3}), light_of(even(0), warm_left())).together.holds, std::nullopt);
}

// The light's irradiance would say that the left end is the warm one; its surfaces say otherwise.
Light with_surfaces(Light light, const At& celsius) {
    light.surface_c = [=](std::span<const warmth::Spot> surfaces) {
        std::vector<double> all;
        for (const warmth::Spot& spot : surfaces) all.push_back(celsius(spot.feet));
        return all;
    };
    return light;
}

TEST(together, goes_by_surface_temperature_where_it_is_known) {
    const At warm_right = [](const Vec3& p) { return 24 + 20 * p.x() / 1.2; };
    const Verdict v =
        verdict_on(home_of_zone({3}), with_surfaces(light_of(falling(6, 0.5), warm_left()), warm_right));
    EXPECT_EQ(v.together.holds, false);
    EXPECT_TRUE(mentions(v.together.why, "about 44 C")) << v.together.why;
    const Verdict even_warmth =
        verdict_on(home_of_zone({3}), with_surfaces(light_of(falling(6, 0.5)), even(24)));
    EXPECT_EQ(even_warmth.together.holds, std::nullopt);
}

TEST(a_note, holds_the_basking_surface_against_the_sheet) {
    Enclosure e = home_of_zone({3});
    e.animals[0].definition =
        R"({"id": "own", "scientific_name": "Lacerta propria", "back_height_cm": 4, "basking_surface_c": [34, 38]})";
    e.spots = {spot("stone", {0.1, 0.3, 0}, Role::bask)};
    const auto note = [&](double celsius) {
        const auto surfaces = [=](const Vec3& p) { return celsius - 20 * std::max(0.0, p.x() - 0.1); };
        return judged(e, with_surfaces(light_of(falling(6, 0.5), warm_left()), surfaces)).notes.back();
    };
    EXPECT_TRUE(mentions(note(30), "34-38 C")) << note(30);
    EXPECT_TRUE(mentions(note(30), "about 30 C, cooler")) << note(30);
    EXPECT_TRUE(mentions(note(36), "about 36 C, within")) << note(36);
    EXPECT_TRUE(mentions(note(48), "about 48 C, warmer")) << note(48);
    EXPECT_TRUE(mentions(note(48), "no thermostat")) << note(48);
}

// ---- overall ------------------------------------------------------------------------------------------------
TEST(overall, holds_when_every_part_holds) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("a", {0.1, 0.3, 0}, Role::bask)};
    const Verdict v = verdict_on(e, light_of(falling(6, 0.5), warm_left()));
    for (const Part* part : {&v.basking, &v.retreat, &v.ceiling, &v.gradient, &v.together, &v.overall}) {
        EXPECT_EQ(part->holds, true) << part->why;
        EXPECT_EQ(part->probability, std::nullopt) << "there is no fit yet";
        EXPECT_FALSE(part->why.empty());
    }
}

TEST(overall, one_failing_part_fails_it_and_is_named) {
    const Verdict v = verdict_on(home_of_zone({3}), light_of(falling(9, 0.5)));
    EXPECT_EQ(v.overall.holds, false);
    EXPECT_TRUE(mentions(v.overall.why, "ceiling")) << v.overall.why;
    EXPECT_FALSE(mentions(v.overall.why, "retreat")) << v.overall.why;
}

TEST(overall, says_which_parts_were_not_judged) {
    const Verdict v = verdict_on(home_of_zone({3}), light_of(falling(6, 0.5)));
    EXPECT_EQ(v.overall.holds, true);
    EXPECT_TRUE(mentions(v.overall.why, "not judged: basking, together")) << v.overall.why;
}

// ---- reach profile ------------------------------------------------------------------------------------------
TEST(reach_profile, quantiles_follow_the_floor) {
    const At ramp = [](const Vec3& p) { return p.x() / 1.2; };
    const Judgement judgement = judged(home_of_zone({1}), light_of(ramp));
    const ReachProfile& profile = judgement.animals[0].reach;
    // Cells are 3 cm of 120: a quantile is known to one cell.
    for (const auto& [share, uvi] : profile.quantiles) EXPECT_NEAR(uvi, share, 1.0 / 40) << share;
    EXPECT_NEAR(profile.share_in_band, 0.7, 1.0 / 40);
    EXPECT_NEAR(profile.share_in_shade, 0.7, 1.0 / 40);
    EXPECT_NEAR(profile.area, 0.72, 1e-12);
}

// ---- notes --------------------------------------------------------------------------------------------------
TEST(notes, a_lamp_without_output_is_dark_and_said_to_be) {
    Enclosure e = home_of_zone({3});
    scene::Lamp lamp;
    lamp.id = "uv";
    lamp.name = "Old tube";
    e.lamps = {lamp};
    EXPECT_TRUE(any_mentions(judged(e, light_of(even(0))).notes, "Old tube"));
}

TEST(notes, uv_behind_glass_makes_no_vitamin) {
    const Enclosure e = home_of_zone({3});
    EXPECT_TRUE(any_mentions(judged(e, light_of(even(1), even(0), 0.05)).notes, "vitamin D3"));
    EXPECT_FALSE(any_mentions(judged(e, light_of(even(1), even(0), 2)).notes, "vitamin D3"));
}

TEST(notes, uvc_is_a_warning_unless_it_is_the_mere_tail_of_a_spectrum) {
    const Enclosure e = home_of_zone({3});
    EXPECT_FALSE(
        any_mentions(judged(e, light_of(even(40), even(0), 2, 0.01)).notes, "UVC"));  // 0.5 % of the UVB
    EXPECT_TRUE(any_mentions(judged(e, light_of(even(1), even(0), 2, 0.01)).notes, "UVC"));
    EXPECT_FALSE(any_mentions(judged(e, light_of(even(1), even(0), 2, 0)).notes, "UVC"));
}

TEST(notes, the_keeper_is_told_how_long_bare_eyes_may_stay) {
    const Enclosure e = home_of_zone({3});
    // UVI 4 is 0.1 W/m2 erythemal, here 0.05 W/m2 actinic: 30 J/m2 are reached in 600 s.
    EXPECT_TRUE(any_mentions(judged(e, light_of(even(4))).notes, "after 10 min"));
    EXPECT_FALSE(any_mentions(judged(e, light_of(even(0.05))).notes, "daily limit"));
}

TEST(notes, an_estimated_species_is_said_to_be_one) {
    Enclosure e = home_of_zone({3});
    e.animals[0] = {};
    e.animals[0].species = "pogona_inventata";
    EXPECT_TRUE(any_mentions(judged(e, light_of(even(4))).notes, "estimates"));
}

// ---- animals ------------------------------------------------------------------------------------------------
TEST(animals, the_document_stands_above_the_sheet) {
    Enclosure e = home_of_zone({});
    e.animals[0] = {};
    e.animals[0].species = "pogona_vitticeps";
    e.animals[0].back_height = 0.07;
    e.animals[0].climbs = true;
    e.animals[0].zones = {2};
    e.animals[0].count = 3;
    const auto animals = resolve_animals(e);
    ASSERT_TRUE(animals);
    const AnimalJudgement& animal = animals->at(0);
    EXPECT_EQ(animal.species.back_height, 0.07);
    EXPECT_TRUE(animal.species.climbs);
    EXPECT_EQ(animal.species.zones, std::vector<int>{2});
    EXPECT_EQ(animal.band->high, 3.0);
    EXPECT_EQ(animal.count, 3);
    EXPECT_EQ(animal.species.sources.at("zones").source, "set for this enclosure");
}

TEST(animals, an_unknown_species_is_refused_with_its_place_and_the_nearest_known) {
    Enclosure e = home_of_zone({3});
    e.animals.emplace_back();
    e.animals[1].species = "pogna_vitticeps";
    const auto animals = resolve_animals(e);
    ASSERT_FALSE(animals);
    EXPECT_EQ(animals.error()[0].place, "/animals/1/species");
    EXPECT_TRUE(mentions(animals.error()[0].allowed, "pogona_vitticeps"));
}

TEST(animals, a_spot_is_read_at_its_own_height_or_at_the_back_of_its_animal) {
    const auto animals = resolve_animals(home_of_zone({3}));
    scene::Place place = spot("a", {0.1, 0.2, 0.3}, Role::bask);
    EXPECT_DOUBLE_EQ(reading_point(place, *animals).z(), 0.34);
    place.height = 0.01;
    EXPECT_DOUBLE_EQ(reading_point(place, *animals).z(), 0.31);
    EXPECT_DOUBLE_EQ(reading_point(spot("a", {0, 0, 0.3}, Role::bask), {}).z(), 0.3);
}

// ---- answers ------------------------------------------------------------------------------------------------
TEST(answers, the_json_has_the_fields_of_the_contract) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("bask", {0.1, 0.3, 0}, Role::bask)};
    const nlohmann::json answer = to_json(judged(e, light_of(falling(6, 0.5), warm_left())));
    EXPECT_EQ(answer["enclosure"], "test");
    EXPECT_EQ(answer["spots"][0]["id"], "bask");
    EXPECT_TRUE(answer["spots"][0]["uvi"].is_number());
    EXPECT_TRUE(answer["spots"][0]["interval"].is_null());
    EXPECT_EQ(answer["spots"][0]["point_cm"], nlohmann::json({10.0, 30.0, 4.0}));
    const nlohmann::json& animal = answer["animals"][0];
    EXPECT_EQ(animal["species"], "own");
    EXPECT_EQ(animal["band"], nlohmann::json({2.9, 7.4}));
    EXPECT_EQ(animal["ceiling"], 7.4);
    EXPECT_EQ(animal["states"]["bask"], "in");
    for (const char* share : {"0", "0.1", "0.25", "0.5", "0.75", "0.9", "1"}) {
        EXPECT_TRUE(animal["reach"]["quantiles"][share].is_number()) << share;
    }
    EXPECT_TRUE(animal["reach"]["share_in_band"].is_number());
    for (const char* part : {"basking", "retreat", "ceiling", "gradient", "together", "overall"}) {
        EXPECT_EQ(animal["verdict"][part]["holds"], true) << part;
        EXPECT_TRUE(animal["verdict"][part]["probability"].is_null()) << part;
        EXPECT_TRUE(animal["verdict"][part]["why"].is_string()) << part;
    }
    EXPECT_TRUE(answer["notes"].is_array());
}

TEST(answers, what_is_unknown_is_null_in_the_json) {
    Enclosure e = home_of_zone({});
    const nlohmann::json animal = to_json(judged(e, light_of(even(0))))["animals"][0];
    EXPECT_TRUE(animal["band"].is_null());
    EXPECT_TRUE(animal["ceiling"].is_null());
    EXPECT_TRUE(animal["verdict"]["basking"]["holds"].is_null());
}

TEST(answers, the_text_names_spot_reading_and_every_part_within_80_columns) {
    Enclosure e = home_of_zone({3});
    e.spots = {spot("bask", {0.1, 0.3, 0}, Role::bask)};
    e.spots[0].name = "Flat stone";
    const std::string text = to_text(judged(e, light_of(falling(6, 0.5), warm_left())));
    for (const char* words :
         {"Flat stone: 3.8 UVI", "basking", "retreat", "ceiling", "gradient", "together"}) {
        EXPECT_TRUE(mentions(text, words)) << text;
    }
    std::size_t columns = 0;
    for (const char c : text) {
        const bool continues = (static_cast<unsigned char>(c) & 0xC0u) == 0x80u;
        columns = c == '\n' ? 0 : columns + (continues ? 0 : 1);
        EXPECT_LE(columns, 80u) << text;
    }
}

TEST(answers, an_enclosure_without_animals_has_readings_but_no_verdict) {
    Enclosure e = home_of_zone({3});
    e.animals.clear();
    e.spots = {spot("a", {0.1, 0.3, 0}, Role::bask)};
    const Judgement judgement = judged(e, light_of(even(2)));
    EXPECT_EQ(judgement.spots[0].uvi, 2);
    EXPECT_TRUE(judgement.animals.empty());
    EXPECT_TRUE(mentions(to_text(judgement), "no verdict"));
}

}  // namespace
}  // namespace dapple::husbandry
