// The demo collection tells its stories: what was planted in an enclosure is what its verdict finds.
#include <gtest/gtest.h>

#include <set>

#include "husbandry/verdict.h"
#include "inference/fit_judge.h"
#include "server/demo_filled.h"

namespace dapple::server {
namespace {

husbandry::AnimalJudgement judged(const std::string& id) {
    const auto judgement = husbandry::judge(demo().enclosure(id));
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return judgement->animals.at(0);
}

husbandry::AnimalJudgement judged_by_readings(const std::string& id) {
    const scene::Enclosure enclosure = demo().enclosure(id);
    const auto judgement = inference::judge_fitted(inference::fit(enclosure, demo().last_survey(enclosure)));
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return judgement->animals.at(0);
}

std::set<std::string> failing(const husbandry::Verdict& verdict) {
    std::set<std::string> names;
    const auto look = [&](const char* name, const husbandry::Part& part) {
        if (part.holds == false) names.insert(name);
    };
    look("basking", verdict.basking);
    look("retreat", verdict.retreat);
    look("ceiling", verdict.ceiling);
    look("gradient", verdict.gradient);
    look("together", verdict.together);
    return names;
}

TEST(TheDemo, is_judged_enclosure_by_enclosure_or_says_why_not) {
    const auto enclosures = demo().all("enclosure");
    EXPECT_GE(enclosures.size(), 14U);
    for (const record::Thing& one : enclosures) {
        const auto judgement = husbandry::judge(demo().enclosure(one.id));
        ASSERT_TRUE(judgement) << one.id << ": " << to_text(judgement.error());
        if (judgement->animals.empty()) {
            EXPECT_NE(husbandry::to_text(*judgement).find("No animal lives here"), std::string::npos)
                << one.id;
        }
        for (const auto& animal : judgement->animals) {
            EXPECT_TRUE(animal.verdict.overall.holds) << one.id;
            EXPECT_FALSE(animal.verdict.overall.why.empty()) << one.id;
        }
    }
}

TEST(TheEnclosureOfTheDemoWithAnAgedLamp, was_right_when_the_lamp_was_new) {
    EXPECT_EQ(failing(judged("red-ledge").verdict), std::set<std::string>{});
}

TEST(TheHealthyEnclosureOfTheDemo, holds_by_its_document_and_by_its_readings) {
    EXPECT_EQ(judged("river-thicket").verdict.overall.holds, true);
    const husbandry::Verdict verdict = judged_by_readings("river-thicket").verdict;
    EXPECT_EQ(failing(verdict), std::set<std::string>{}) << verdict.overall.why;
    EXPECT_GT(verdict.basking.probability.value_or(0), 0.95);
}

TEST(TheEnclosureOfTheDemoWithTwoSuns, has_its_warmth_and_its_ultraviolet_apart) {
    EXPECT_EQ(failing(judged("south-wall").verdict), std::set<std::string>{"together"});
    EXPECT_EQ(failing(judged_by_readings("south-wall").verdict), std::set<std::string>{"together"});
}

TEST(TheEnclosureOfTheDemoUnderAFlyScreen, gets_too_little_until_its_task_is_done) {
    EXPECT_EQ(failing(judged("vine-trellis").verdict), std::set<std::string>{"basking"});
    EXPECT_TRUE(failing(judged_by_readings("vine-trellis").verdict).contains("basking"));
    const auto task = demo().store().find("task", "coarser-lid");
    ASSERT_TRUE(task);
    EXPECT_FALSE(task->fields.contains("done_on"));
    const auto after = husbandry::judge(demo().parsed(task->fields["fix"]));
    ASSERT_TRUE(after) << to_text(after.error());
    EXPECT_EQ(failing(after->animals.at(0).verdict), std::set<std::string>{});
}

TEST(TheUnlistedSpeciesOfTheDemo, is_an_estimate) {
    const husbandry::AnimalJudgement animal = judged("scree-slope");
    EXPECT_TRUE(animal.species.estimate);
    EXPECT_TRUE(animal.band);
    EXPECT_EQ(failing(animal.verdict), std::set<std::string>{});
}

TEST(TheLeafOfTheDemo, is_found_among_the_readings_and_nothing_else_is) {
    const scene::Enclosure enclosure = demo().enclosure("cloud-oak");
    const auto readings = demo().last_survey(enclosure);
    const inference::Fit fit = inference::fit(enclosure, readings);
    ASSERT_EQ(fit.set_aside.size(), 1U);
    EXPECT_EQ(readings[fit.set_aside.front().index].spot, "bough-end");
}

}  // namespace
}  // namespace dapple::server
