// Commands that take readings.
#include <gtest/gtest.h>

#include "cli/console.h"

namespace dapple::tests {

using nlohmann::json;

namespace {

const char* const some_readings =
    "date,spot,x_cm,y_cm,z_cm,uvi\n2026-03-01,bask,,,,3.0\n2026-03-01,,30,20,25,3.9\n2026-03-01,,10,20,4,0."
    "8\n";

}  // namespace

TEST(FitCommand, answers_every_field_of_the_contract) {
    const Folder folder;
    const std::string readings = folder.write("book.csv", some_readings);
    const Outcome outcome = dapple({"fit", "-", "--readings", readings, "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json answer = outcome.json();
    ASSERT_FALSE(answer.at("factors").empty());
    for (const json& factor : answer["factors"]) {
        EXPECT_TRUE(factor.at("of").is_string());
        EXPECT_LT(factor.at("interval")[0], factor.at("value"));
        EXPECT_GT(factor.at("interval")[1], factor.at("value"));
    }
    EXPECT_TRUE(answer.at("set_aside").is_array());
    EXPECT_TRUE(answer.at("cannot_tell").is_array());
    ASSERT_EQ(answer.at("spots").size(), 2U);
    EXPECT_EQ(answer["spots"][0].at("id"), "bask");
    EXPECT_LT(answer["spots"][0].at("interval")[0], answer["spots"][0].at("uvi"));
}

TEST(FitCommand, without_readings_asks_for_them) {
    const Outcome outcome = dapple({"fit", "-"}, small_pen);
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("--readings"), std::string::npos);
}

TEST(FitCommand, names_the_file_and_line_that_cannot_be_read) {
    const Folder folder;
    const std::string readings = folder.write("book.csv", "date,spot,uvi\n2999-01-01,bask,3\n");
    const Outcome future = dapple({"fit", "-", "--readings", readings}, small_pen);
    EXPECT_EQ(future.status, 2);
    EXPECT_NE(future.err.find("book.csv at line 2"), std::string::npos) << future.err;
    const Outcome missing = dapple({"fit", "-", "--readings", folder.file("none.csv")}, small_pen);
    EXPECT_EQ(missing.status, 2);
    EXPECT_NE(missing.err.find("none.csv"), std::string::npos);
}

TEST(Check, with_readings_has_intervals_and_probabilities) {
    const Folder folder;
    const std::string readings = folder.write("book.csv", some_readings);
    const Outcome outcome = dapple({"check", "-", "--readings", readings, "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const json answer = outcome.json();
    for (const json& spot : answer.at("spots")) EXPECT_EQ(spot.at("interval").size(), 2U);
    for (const auto& [name, part] : answer.at("animals")[0].at("verdict").items()) {
        EXPECT_EQ(part.at("holds").is_null(), part.at("probability").is_null()) << name;
    }
}

}  // namespace dapple::tests
