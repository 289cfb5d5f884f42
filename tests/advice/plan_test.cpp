// Plans for empty enclosures.
#include "advice/plan.h"

#include <gtest/gtest.h>

#include "advice/lamps.h"
#include "advice/pens.h"

namespace dapple::advice {

using scene::Vec3;

namespace {

const husbandry::Species& species(const char* id) {
    const husbandry::Species* found = husbandry::find_species(id);
    if (found == nullptr) throw std::runtime_error(id);
    return *found;
}

}  // namespace

TEST(Plan, is_judged_the_same_when_it_is_written_out_and_read_again) {
    const auto planning = plan_for(species("pogona_vitticeps"), Vec3(1.2, 0.6, 0.6));
    ASSERT_TRUE(planning);
    ASSERT_FALSE(planning->plans.empty());
    for (const Plan& plan : planning->plans) {
        SCOPED_TRACE(plan.words);
        const auto again = husbandry::judge(tests::parse(scene::to_json(plan.enclosure)));
        ASSERT_TRUE(again);
        EXPECT_EQ(again->animals[0].verdict.overall.holds, true);
        for (std::size_t s = 0; s < again->spots.size(); ++s) {
            EXPECT_NEAR(again->spots[s].uvi, plan.judgement.spots[s].uvi, 1e-5 * (1 + again->spots[s].uvi));
        }
    }
}

TEST(Plan, hangs_every_lamp_at_its_models_distance_from_the_animal) {
    const auto planning = plan_for(species("pogona_vitticeps"), Vec3(1.2, 0.6, 0.6));
    ASSERT_TRUE(planning);
    for (const Plan& plan : planning->plans) {
        const Vec3 back = plan.judgement.spots[0].point;
        for (std::size_t l = 0; l < plan.enclosure.lamps.size(); ++l) {
            const LampModel& model = *find_lamp_model(plan.models[l]);
            EXPECT_GT((plan.enclosure.lamps[l].centre - back).norm(), model.safe_distance) << plan.words;
        }
    }
}

TEST(Plan, gives_no_heat_lamp_to_an_animal_that_does_not_bask_and_still_some_uv) {
    const auto& frog = species("dendrobates_leucomelas");
    ASSERT_EQ(basking_irradiance(frog), 0);
    const auto planning = plan_for(frog, Vec3(0.6, 0.45, 0.6));
    ASSERT_TRUE(planning);
    ASSERT_FALSE(planning->plans.empty());
    for (const Plan& plan : planning->plans) {
        for (const std::string& model : plan.models) EXPECT_FALSE(find_lamp_model(model)->heat) << plan.words;
        EXPECT_GT(plan.judgement.spots[0].uvi, 0.15) << plan.words;
    }
}

TEST(Plan, says_so_where_nothing_suits) {
    const auto planning = plan_for(species("uromastyx_ornata"), Vec3(0.3, 0.3, 0.3));
    ASSERT_TRUE(planning);
    EXPECT_TRUE(planning->plans.empty());
    for (const Plan& plan : planning->nearest) EXPECT_FALSE(plan.wrong.empty()) << plan.words;
    EXPECT_GT(planning->glances, 0U);
}

TEST(Plan, refuses_a_species_whose_zone_nobody_knows) {
    husbandry::Species unknown = species("pogona_vitticeps");
    unknown.zones.clear();
    EXPECT_FALSE(plan_for(unknown, Vec3(1, 1, 1)));
}

}  // namespace dapple::advice
