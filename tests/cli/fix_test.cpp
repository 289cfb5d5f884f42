// dapple fix and dapple plan as a person meets them.
#include <gtest/gtest.h>

#include "console.h"

namespace dapple::tests {

TEST(FixCommand, answers_with_what_the_contract_names_and_what_was_looked_at) {
    const auto outcome = dapple({"fix", "-", "--json"}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const auto answer = outcome.json();
    ASSERT_FALSE(answer["fixes"].empty());
    for (const auto& fix : answer["fixes"]) {
        for (const char* field : {"words", "effort", "changes", "enclosure", "before", "after", "probability",
                                  "on_front", "remaining", "worsened"}) {
            EXPECT_TRUE(fix.contains(field)) << field;
        }
    }
    EXPECT_GT(answer["looked_at"]["candidates"].get<int>(), answer["looked_at"]["judged"].get<int>());
}

TEST(FixCommand, takes_efforts_from_a_file_and_refuses_faulty_ones) {
    const Folder folder;
    const auto dear = folder.write("dear.json", R"({"format": "dapple/effort@1", "move_furniture": 500})");
    const auto outcome = dapple({"fix", "-", "--json", "--effort", dear}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const auto answer = outcome.json();
    for (const auto& fix : answer["fixes"]) {
        const bool moves = fix["changes"][0]["kind"] == "move_furniture";
        EXPECT_TRUE(!moves || fix["effort"].get<double>() >= 500) << fix["words"];
    }
    const auto usual = dapple({"fix", "-", "--json"}, small_pen).json()["fixes"][0];
    EXPECT_EQ(usual["changes"][0]["kind"], "move_furniture");
    EXPECT_LT(usual["effort"].get<double>(), 500);
    const auto faulty = folder.write("faulty.json", R"({"format": "dapple/effort@1", "move_lam": 5})");
    const auto refused = dapple({"fix", "-", "--effort", faulty}, small_pen);
    EXPECT_EQ(refused.status, 2);
    EXPECT_NE(refused.err.find("/move_lam"), std::string::npos) << refused.err;
}

TEST(PlanCommand, gives_documents_that_check_finds_sound) {
    const auto outcome =
        dapple({"plan", "--species", "pogona_vitticeps", "--size-cm", "120x60x60", "--json"});
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const auto plans = outcome.json()["plans"];
    ASSERT_FALSE(plans.empty());
    const auto check = dapple({"check", "-", "--json"}, plans[0]["enclosure"].dump());
    ASSERT_EQ(check.status, 0) << check.err;
    EXPECT_EQ(check.json()["animals"][0]["verdict"]["overall"]["holds"], true);
    EXPECT_NEAR(check.json()["spots"][0]["uvi"].get<double>(),
                plans[0]["judgement"]["spots"][0]["uvi"].get<double>(), 1e-4);
}

TEST(PlanCommand, says_what_sizes_and_species_it_takes) {
    const auto size = dapple({"plan", "--species", "pogona_vitticeps", "--size-cm", "120x60"});
    EXPECT_EQ(size.status, 2);
    EXPECT_NE(size.err.find("like 120x60x60"), std::string::npos) << size.err;
    EXPECT_EQ(dapple({"plan", "--size-cm", "120x60x60"}).status, 2);
}

}  // namespace dapple::tests
