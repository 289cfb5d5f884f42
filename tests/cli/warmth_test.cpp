// dapple warmth: its answer, its words, and what it refuses.
#include <gtest/gtest.h>

#include <cmath>

#include "cli/console.h"

namespace dapple::tests {

using nlohmann::json;

namespace {

// The small pen with a heat lamp in it.
std::string heated_pen(const json& changes = json::object()) {
    json pen = json::parse(small_pen);
    pen["lamps"].push_back({{"id", "warm"},
                            {"kind", "spot"},
                            {"centre_cm", {30, 20, 45}},
                            {"spectrum", "halogen"},
                            {"output", {{"lux", 9000}, {"at_cm", 30}}},
                            {"power_w", 35}});
    pen.merge_patch(changes);
    return pen.dump();
}

}  // namespace

TEST(Warmth, answers_every_field_of_the_contract) {
    const Outcome outcome = dapple({"warmth", "-", "--json"}, heated_pen());
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json answer = outcome.json();
    ASSERT_EQ(answer.at("spots").size(), 2U);
    for (const json& spot : answer["spots"]) {
        EXPECT_FALSE(spot.at("id").get<std::string>().empty());
        EXPECT_TRUE(std::isfinite(spot.at("surface_c").get<double>()));
        EXPECT_TRUE(std::isfinite(spot.at("air_c").get<double>()));
        EXPECT_LT(spot.at("interval")[0].get<double>(), spot.at("surface_c").get<double>());
        EXPECT_GT(spot.at("interval")[1].get<double>(), spot.at("surface_c").get<double>());
    }
}

TEST(Warmth, says_that_it_is_no_thermostat_and_warns_of_fire) {
    const Outcome outcome = dapple({"warmth", "-"}, heated_pen());
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    for (const char* word : {"no thermostat", "fire", "electrician", "surface", "air"}) {
        EXPECT_NE(outcome.out.find(word), std::string::npos) << word;
    }
}

TEST(Warmth, outdoors_warns_of_closed_boxes_in_the_sun) {
    const Outcome outcome = dapple({"warmth", "-"}, heated_pen({{"outdoors", {{"lat", 47}, {"lon", 8}}}}));
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("never leave an animal"), std::string::npos);
}

TEST(Warmth, takes_the_room_of_the_command_line_before_the_documents) {
    const auto surface = [](const std::vector<std::string>& line, const std::string& pen) {
        return dapple(line, pen).json().at("spots")[0].at("surface_c").get<double>();
    };
    const double document = surface({"warmth", "-", "--json"}, heated_pen({{"room_c", 16}}));
    const double said = surface({"warmth", "-", "--json", "--room-c", "28"}, heated_pen({{"room_c", 16}}));
    // A little less than 12 K: a warmer surface loses more.
    EXPECT_NEAR(said - document, 12, 1);
    EXPECT_EQ(surface({"warmth", "-", "--json", "--room-c=16"}, heated_pen()), document);
}

TEST(Warmth, fits_the_temperatures_among_readings) {
    const Folder folder;
    const std::string readings =
        folder.write("warm.csv", "spot,quantity,value\nbask,temperature_c,44\nbask,uvi,3\n");
    const Outcome outcome = dapple({"warmth", "-", "--json", "--readings", readings}, heated_pen());
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_FALSE(outcome.json().at("factors").empty());
    const Outcome words = dapple({"warmth", "-", "--readings", readings}, heated_pen());
    EXPECT_NE(words.out.find("Fitted to 1 temperature"), std::string::npos) << words.out;
    const std::string light = folder.write("light.csv", "spot,quantity,value\nbask,uvi,3\n");
    EXPECT_NE(dapple({"warmth", "-", "--readings", light}, heated_pen()).out.find("no temperature among"),
              std::string::npos);
}

TEST(Warmth, refuses_what_it_cannot_use) {
    struct Refusal {
        const char* about;
        std::vector<std::string> line;
        std::string pen;
        std::vector<std::string> words;
    };
    const std::vector<Refusal> table = {
        {"no number", {"warmth", "-", "--room-c", "warm"}, heated_pen(), {"--room-c", "warm"}},
        {"no finite number", {"warmth", "-", "--room-c", "nan"}, heated_pen(), {"--room-c", "nan"}},
        {"a unit", {"warmth", "-", "--room-c", "22C"}, heated_pen(), {"--room-c", "22C"}},
        {"a kiln", {"warmth", "-", "--room-c", "300"}, heated_pen(), {"--room-c", "-50 to 60"}},
        {"the pole of cold", {"warmth", "-", "--room-c", "-90"}, heated_pen(), {"--room-c", "-50 to 60"}},
        {"no value", {"warmth", "-", "--room-c"}, heated_pen(), {"--room-c"}},
        {"no document", {"warmth"}, "", {"ENC"}},
        {"a document that is not there", {"warmth", "/nowhere/pen.json"}, "", {"/nowhere/pen.json"}},
        {"an unknown option", {"warmth", "-", "--rom-c", "22"}, heated_pen(), {"did you mean --room-c?"}},
        {"readings that are not there",
         {"warmth", "-", "--readings", "/nowhere/warm.csv"},
         heated_pen(),
         {"/nowhere/warm.csv"}},
        {"a room in words", {"warmth", "-"}, heated_pen({{"room_c", "warm"}}), {"/room_c", "-50 to 60"}},
        {"a misspelt room", {"warmth", "-"}, heated_pen({{"room", 22}}), {"/room", "room_c"}},
        {"a negative exchange of air",
         {"warmth", "-"},
         heated_pen({{"air_changes_per_h", -2}}),
         {"/air_changes_per_h", "0 to 1000"}},
        {"a wall thicker than a house",
         {"warmth", "-"},
         heated_pen({{"walls_mm", {{"left", 9000}}}}),
         {"/walls_mm/left", "0.1 to 1000"}},
    };
    for (const Refusal& refusal : table) {
        const Outcome outcome = dapple(refusal.line, refusal.pen);
        EXPECT_EQ(outcome.status, 2) << refusal.about;
        EXPECT_EQ(outcome.out, "") << refusal.about;
        for (const std::string& word : refusal.words) {
            EXPECT_NE(outcome.err.find(word), std::string::npos) << refusal.about << ": " << outcome.err;
        }
    }
}

}  // namespace dapple::tests
