// dapple life, as a keeper calls it.
#include <gtest/gtest.h>

#include "cli/console.h"

namespace dapple::tests {

namespace {

const char* const table =
    "date,lamp,spot,value\n2026-01-10,uv,bask,4.9\n2026-02-20,uv,bask,4.6\n2026-04-01,uv,bask,4.3\n"
    "2026-05-12,uv,bask,4.2\n";

std::vector<std::string> life(std::vector<std::string> more) {
    more.insert(more.begin(), {"life", "--readings", "-", "--today", "2026-06-01"});
    return more;
}

void expect_refused(const Outcome& outcome, const std::vector<std::string>& words) {
    EXPECT_EQ(outcome.status, 2);
    EXPECT_EQ(outcome.out, "");
    for (const std::string& word : words) EXPECT_NE(outcome.err.find(word), std::string::npos) << outcome.err;
}

}  // namespace

TEST(Life, answers_as_the_contract_says) {
    const auto answer =
        dapple(life({"--band", "2.9,7.4", "--kind", "fluorescent_tube", "--json"}), table).json();
    ASSERT_EQ(answer["lamps"].size(), 1U);
    const auto& lamp = answer["lamps"][0];
    EXPECT_EQ(lamp["lamp"], "uv");
    EXPECT_GT(lamp["alpha_per_1000h"], 0);
    EXPECT_GT(lamp["half_life_h"], 0);
    EXPECT_TRUE(lamp["beyond_limit"].is_boolean());
    const std::string date = lamp["leaves_band"]["date"];
    EXPECT_LT(lamp["leaves_band"]["interval"][0], date);
    EXPECT_GT(lamp["leaves_band"]["interval"][1], date);
}

TEST(Life, says_in_words_what_the_calendar_would_cost) {
    const Outcome outcome = dapple(
        life({"--low", "2.9", "--kind", "fluorescent_tube", "--every-months", "6", "--price", "40"}), table);
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    for (const char* word : {"uv", "leaves the band", "lamps a year", "in your money"}) {
        EXPECT_NE(outcome.out.find(word), std::string::npos) << outcome.out;
    }
}

TEST(Life, follows_the_examples) {
    const std::string examples = std::string(DAPPLE_ROOT) + "/examples/";
    for (const auto& [enclosure, lamp] : {std::pair{"dry-wall", "uv"}, {"reed-margin", "sun"}}) {
        const Outcome outcome = dapple({"life", "--readings", examples + "lamp-life.csv", "--enclosure",
                                        examples + enclosure + ".json", "--today", "2026-06-01", "--json"});
        ASSERT_EQ(outcome.status, 0) << outcome.err;
        const auto answer = outcome.json();
        ASSERT_EQ(answer["lamps"].size(), 1U);
        EXPECT_EQ(answer["lamps"][0]["lamp"], lamp);
        EXPECT_TRUE(answer["lamps"][0]["leaves_band"]["date"].is_string()) << answer.dump(1);
        EXPECT_EQ(answer["notes"].size(), 1U);  // the other enclosure's readings
    }
}

TEST(Life, refuses_what_it_cannot_use_by_name) {
    expect_refused(dapple({"life"}), {"--readings"});
    expect_refused(dapple({"life", "--readings", "/nowhere/life.csv"}), {"/nowhere/life.csv"});
    expect_refused(dapple(life({}), ""), {"standard input", "nothing"});
    expect_refused(dapple(life({"--kind", "candle"}), table), {"--kind", "candle", "mercury_vapour"});
    expect_refused(dapple(life({"--band", "7,3"}), table), {"--band", "7,3"});
    expect_refused(dapple(life({"--band", "3"}), table), {"--band", "\"3\""});
    expect_refused(dapple(life({"--hours-on", "25"}), table), {"--hours-on", "25"});
    expect_refused(dapple({"life", "--readings", "-", "--today", "2026-05-01"}, table),
                   {"line 5", "future date", "2026-05-12"});
}

}  // namespace dapple::tests
