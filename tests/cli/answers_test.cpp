// The JSON of each command, field by field, and the text for people.
#include <gtest/gtest.h>

#include <cmath>

#include "cli/console.h"

namespace dapple::tests {

using nlohmann::json;

namespace {

void expect_part(const json& part) {
    EXPECT_TRUE(part.at("holds").is_boolean() || part.at("holds").is_null());
    EXPECT_TRUE(part.at("probability").is_number() || part.at("probability").is_null());
    EXPECT_FALSE(part.at("why").get<std::string>().empty());
}

}  // namespace

TEST(At, answers_every_quantity_of_the_contract) {
    const Outcome outcome =
        dapple({"at", "-", "--point", "30,20,14", "--point", "5,5,0", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json points = outcome.json().at("points");
    ASSERT_EQ(points.size(), 2U);
    for (const json& point : points) {
        EXPECT_EQ(point.at("facing"), "aimed");
        EXPECT_EQ(point.at("normal").size(), 3U);
        for (const char* quantity : {"uvi", "erythemal_w_m2", "d3_w_m2", "actinic_w_m2", "uvc_w_m2",
                                     "uvb_w_m2", "uva_w_m2", "lux", "irradiance_w_m2"}) {
            EXPECT_TRUE(std::isfinite(point.at(quantity).get<double>())) << quantity;
            EXPECT_GE(point.at(quantity).get<double>(), 0) << quantity;
        }
        // 40 m2/W by definition (ISO/CIE 17166); a double's rounding is far below 1e-9.
        EXPECT_NEAR(point.at("uvi").get<double>(), 40 * point.at("erythemal_w_m2").get<double>(), 1e-9);
    }
    EXPECT_EQ(points[0].at("point_cm"), json({30, 20, 14}));
}

TEST(At, in_a_black_box_reads_what_the_output_says_where_it_was_taken) {
    // 30 cm below the tube's glass, which is 0.8 cm below its centre at 46 cm.
    const Outcome outcome =
        dapple({"at", "-", "--point", "30,20,15.2", "--bounces", "0", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    // engine.md asks listed points to be exact to 1e-4 in direct light.
    EXPECT_NEAR(outcome.json().at("points")[0].at("uvi").get<double>(), 4, 4e-4);
}

TEST(At, takes_a_direction_that_begins_with_a_minus) {
    const Outcome outcome =
        dapple({"at", "-", "--point", "30,20,15", "--facing", "-1,0,0", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(outcome.json().at("points")[0].at("normal"), json({-1, 0, 0}));
}

TEST(At, adds_no_back_height_and_does_not_mind_where_options_stand) {
    const Outcome outcome = dapple({"at", "--point", "30,20,0", "-", "--json", "--facing", "up"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(outcome.json().at("points")[0].at("point_cm"), json({30, 20, 0}));
}

TEST(At, prints_a_row_a_point) {
    const Outcome outcome = dapple({"at", "-", "--point", "30,20,15", "--point", "5,5,0"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(std::count(outcome.out.begin(), outcome.out.end(), '\n'), 3);
    EXPECT_NE(outcome.out.find("UVI"), std::string::npos);
}

TEST(Check, answers_every_field_of_the_contract) {
    const Outcome outcome = dapple({"check", "-", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json answer = outcome.json();
    EXPECT_EQ(answer.at("enclosure"), "pen");
    ASSERT_EQ(answer.at("spots").size(), 2U);
    EXPECT_EQ(answer["spots"][0].at("id"), "bask");
    EXPECT_TRUE(answer["spots"][0].at("uvi").is_number());
    EXPECT_TRUE(answer["spots"][0].contains("interval"));
    ASSERT_EQ(answer.at("animals").size(), 1U);
    const json& animal = answer["animals"][0];
    EXPECT_EQ(animal.at("species"), "crotaphytus_collaris");
    EXPECT_EQ(animal.at("band"), json({2.9, 7.4}));
    EXPECT_EQ(animal.at("ceiling"), 7.4);
    for (const auto& [spot, state] : animal.at("states").items()) {
        EXPECT_TRUE(state == "below" || state == "low" || state == "in" || state == "high" ||
                    state == "above")
            << spot;
    }
    for (const char* share : {"0", "0.1", "0.5", "0.9", "1"}) {
        EXPECT_TRUE(animal.at("reach").at("quantiles").at(share).is_number()) << share;
    }
    EXPECT_TRUE(animal["reach"].at("share_in_band").is_number());
    for (const char* part : {"basking", "retreat", "ceiling", "gradient", "together", "overall"}) {
        expect_part(animal.at("verdict").at(part));
    }
}

TEST(Check, reads_a_file_as_it_reads_standard_input) {
    const Folder folder;
    const std::string path = folder.write("pen.json", small_pen);
    EXPECT_EQ(dapple({"check", path, "--json"}).out, dapple({"check", "-", "--json"}, small_pen).out);
}

TEST(Check, tells_a_person_what_the_spots_read) {
    const Outcome outcome = dapple({"check", "-"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("Flat stone"), std::string::npos) << outcome.out;
}

TEST(Check, agrees_with_at_where_a_spot_is_read) {
    const json checked = dapple({"check", "-", "--json"}, small_pen).json();
    const json read = dapple({"at", "-", "--point", "30,20,14", "--json"}, small_pen).json();
    EXPECT_NEAR(checked.at("spots")[0].at("uvi").get<double>(), read.at("points")[0].at("uvi").get<double>(),
                1e-9);
}

TEST(FixCommand, offers_changes_whose_documents_check_as_it_says) {
    const Outcome outcome = dapple({"fix", "-", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json fixes = outcome.json().at("fixes");
    ASSERT_FALSE(fixes.empty());
    const json& first = fixes[0];
    const json again = dapple({"check", "-", "--json"}, first.at("enclosure").dump()).json();
    EXPECT_NEAR(again.at("spots")[0].at("uvi").get<double>(),
                first.at("after").at("spots")[0].at("uvi").get<double>(), 1e-6);
    const json before = dapple({"check", "-", "--json"}, small_pen).json();
    EXPECT_EQ(first.at("before"), before);
}

TEST(FixCommand, numbers_its_advice) {
    const Outcome outcome = dapple({"fix", "-"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(outcome.out.rfind(" 1. ", 0), 0U) << outcome.out;
}

TEST(SpeciesCommand, answers_every_field_of_the_contract_best_match_first) {
    const Outcome outcome = dapple({"species", "crotaphytus", "collaris", "--json"});
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json sheet = outcome.json().at("species").at(0);
    EXPECT_EQ(sheet.at("id"), "crotaphytus_collaris");
    EXPECT_FALSE(sheet.at("names").empty());
    EXPECT_FALSE(sheet.at("zones").empty());
    EXPECT_EQ(sheet.at("band").size(), 2U);
    EXPECT_GT(sheet.at("back_height_cm").get<double>(), 0);
    EXPECT_TRUE(sheet.at("climbs").is_boolean());
    EXPECT_EQ(sheet.at("estimate"), false);
    ASSERT_FALSE(sheet.at("sources").empty());
    for (const auto& [field, provenance] : sheet["sources"].items()) {
        EXPECT_FALSE(provenance.at("source").get<std::string>().empty()) << field;
        EXPECT_FALSE(provenance.at("confidence").get<std::string>().empty()) << field;
    }
}

TEST(SpeciesCommand, lists_everything_when_asked_for_nothing) {
    EXPECT_GT(dapple({"species", "--json"}).json().at("species").size(), 10U);
    EXPECT_NE(dapple({"species"}).out.find("Crotaphytus collaris"), std::string::npos);
}

TEST(SpeciesCommand, prints_the_source_beside_each_value) {
    const Outcome outcome = dapple({"species", "crotaphytus", "collaris"});
    ASSERT_EQ(outcome.status, 0);
    EXPECT_NE(outcome.out.find("UV zone"), std::string::npos);
    EXPECT_NE(outcome.out.find("confidence: "), std::string::npos) << outcome.out;
}

TEST(Libraries, name_everything_the_contract_promises_with_its_source) {
    const json materials = dapple({"materials", "--json"}).json().at("materials");
    std::string ids;
    for (const json& m : materials) {
        ids += " " + m.at("id").get<std::string>() + " ";
        EXPECT_FALSE(m.at("source").get<std::string>().empty());
        EXPECT_FALSE(m.at("confidence").get<std::string>().empty());
    }
    for (const char* id :
         {"black", "float_glass", "acrylic", "polycarbonate", "pvc_white", "pvc_black", "wood", "bark",
          "cork_bark", "slate", "soil", "dry_sand", "leaf_litter", "moss", "aluminium", "water"}) {
        EXPECT_NE(ids.find(std::string(" ") + id + " "), std::string::npos) << id;
    }
    std::string lamps;
    const json spectra = dapple({"spectra", "--json"}).json().at("spectra");
    for (const json& s : spectra) {
        lamps += " " + s.at("id").get<std::string>() + " ";
        EXPECT_FALSE(s.at("source").get<std::string>().empty());
    }
    for (const char* id : {"fluorescent_uvb_weak", "fluorescent_uvb_mid", "fluorescent_uvb_strong",
                           "mercury_vapour", "metal_halide", "led_uvb", "led_white", "halogen"}) {
        EXPECT_NE(lamps.find(std::string(" ") + id + " "), std::string::npos) << id;
    }
    EXPECT_NE(dapple({"materials"}).out.find("cork_bark"), std::string::npos);
    EXPECT_NE(dapple({"spectra"}).out.find("halogen"), std::string::npos);
}

}  // namespace dapple::tests
