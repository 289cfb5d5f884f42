// dapple next, as a keeper calls it.
#include <gtest/gtest.h>

#include "cli/console.h"

namespace dapple::tests {

using nlohmann::json;

namespace {

const char* const bright = "date,spot,uvi\n2026-03-01,bask,5.0\n2026-03-01,bask,4.9\n2026-03-02,bask,5.1\n";

}  // namespace

TEST(NextCommand, answers_every_field_of_the_contract) {
    const Outcome outcome = dapple({"next", "-", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json answer = outcome.json();
    ASSERT_FALSE(answer.at("next").empty());
    double before = 1e9;
    for (const json& place : answer["next"]) {
        EXPECT_NE(place.contains("spot"), place.contains("point_cm")) << place.dump();
        EXPECT_FALSE(place.at("settles").get<std::string>().empty());
        EXPECT_LE(place.at("gain").get<double>(), before);
        before = place["gain"];
    }
    EXPECT_GT(answer["next"][0]["gain"].get<double>(), 0);
}

TEST(NextCommand, says_in_words_where_and_what_it_tells) {
    const Outcome outcome = dapple({"next", "-"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("1. "), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("tells whether"), std::string::npos) << outcome.out;
}

TEST(NextCommand, gains_less_after_readings_that_settle_the_question) {
    const Folder folder;
    const std::string readings = folder.write("book.csv", bright);
    const double before = dapple({"next", "-", "--json"}, small_pen).json()["next"][0]["gain"];
    const Outcome after = dapple({"next", "-", "--readings", readings, "--json"}, small_pen);
    ASSERT_EQ(after.status, 0) << after.err;
    EXPECT_LT(after.json()["next"][0]["gain"].get<double>(), before);
}

TEST(NextCommand, refuses_what_it_cannot_use_by_name) {
    const Outcome missing = dapple({"next", "-", "--readings", "/nowhere/book.csv"}, small_pen);
    EXPECT_EQ(missing.status, 2);
    EXPECT_NE(missing.err.find("/nowhere/book.csv"), std::string::npos);
    const Outcome bare =
        dapple({"next", "-"}, R"({"format": "dapple/enclosure@1", "id": "bare", "size_cm": [60, 40, 50]})");
    EXPECT_EQ(bare.status, 2);
    EXPECT_NE(bare.err.find("neither an animal nor a spot"), std::string::npos) << bare.err;
}

}  // namespace dapple::tests
