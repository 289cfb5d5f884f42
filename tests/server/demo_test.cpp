// What the demo writes into a record, and what the record makes of it.
#include "server/demo.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "inference/life.h"
#include "record/deeds.h"
#include "record/due.h"
#include "server/demo_filled.h"

namespace dapple::server {
namespace {

using nlohmann::json;

record::LampForecast forecast(const std::string& lamp) {
    record::LampLives lives;
    const auto found = lives.of_lamp(demo().store(), lamp, demo_day);
    if (!found) throw std::runtime_error(words_of(found.error()));
    return *found;
}

// Every kind's things without what the record adds: ids it made itself, revisions, moments of writing.
std::map<std::string, std::multiset<std::string>> told_by(const Filled& filled) {
    std::map<std::string, std::multiset<std::string>> result;
    for (const record::Kind& kind : record::kinds()) {
        for (const record::Thing& thing : filled.all(std::string(kind.name))) {
            if (thing.id == record::local_person) continue;
            result[std::string(kind.name)].insert(thing.fields.dump());
        }
    }
    return result;
}

TEST(TheDemo, fills_every_kind_of_thing_that_needs_no_people) {
    for (const record::Kind& kind : record::kinds()) {
        if (kind.name == "person" || kind.name == "membership") continue;
        EXPECT_FALSE(demo().all(std::string(kind.name)).empty()) << kind.name;
    }
    RecordProperty("readings", static_cast<int>(demo().all("reading").size()));
}

TEST(TheDemo, keeps_the_animals_that_its_documents_name) {
    std::map<std::string, std::map<std::string, int>> kept;
    for (const record::Thing& animal : demo().all("animal")) {
        if (!animal.fields.contains("enclosure")) continue;
        kept[animal.fields["enclosure"]][animal.fields["species"]] += animal.fields.value("count", 1);
    }
    for (const record::Thing& one : demo().all("enclosure")) {
        std::map<std::string, int> named;
        for (const scene::Animal& animal : demo().enclosure(one.id).animals)
            named[animal.species] += animal.count;
        EXPECT_EQ(kept[one.id], named) << one.id;
    }
}

TEST(TheDemo, has_every_kind_of_work_due) {
    record::LampLives lives;
    const auto due = record::due_list(demo().store(), lives, {"mill"}, demo_day);
    ASSERT_TRUE(due) << words_of(due.error());
    std::set<std::string> things;
    std::set<record::DueKind> kinds;
    for (const record::Due& one : *due) {
        kinds.insert(one.kind);
        things.insert(one.thing);
    }
    EXPECT_EQ(kinds.size(), 4U);
    for (const char* thing : {"ledge-tube-2", "uv-meter", "coarser-lid", "moss-bank"}) {
        EXPECT_TRUE(things.contains(thing)) << thing;
    }
    EXPECT_FALSE(things.contains("thermometer")) << "it was calibrated half a year ago, for two years";
    EXPECT_FALSE(things.contains("heath-replaced")) << "it is done";
}

TEST(TheAgedLampOfTheDemo, leaves_the_band_about_now_and_its_interval_says_how_surely) {
    const record::LampForecast found = forecast("ledge-tube-2");
    ASSERT_TRUE(found.life) << (found.notes.empty() ? "" : found.notes.front());
    const inference::Leaving* leaving = found.life->leaving();
    ASSERT_NE(leaving, nullptr);
    ASSERT_TRUE(leaving->date && leaving->early && leaving->late);
    EXPECT_LE(std::abs(inference::days_between(demo_day, *leaving->date)), 60);
    EXPECT_LT(*leaving->early, *leaving->date);
    EXPECT_LT(*leaving->date, *leaving->late);
    EXPECT_FALSE(leaving->beyond_limit);
    EXPECT_FALSE(leaving->from_start);
    // The story's truth.
    EXPECT_LT(found.life->alpha_interval.first, 0.112);
    EXPECT_GT(found.life->alpha_interval.second, 0.112);
    EXPECT_EQ(*record::lamp_hours(demo().store(), "ledge-tube-2", inference::to_text(demo_day)), 376 * 12);
    EXPECT_FALSE(demo().store().find("lamp", "ledge-tube-3")->fields.contains("enclosure")) << "in store";
}

TEST(TheDemo, is_told_the_same_way_again) {
    EXPECT_EQ(told_by(demo()), told_by(Filled(demo_day)));
}

TEST(TheDemo, moves_with_the_day) {
    const Filled later(demo_day + std::chrono::days(200));
    EXPECT_EQ(later.all("reading").size(), demo().all("reading").size());
    const auto newest = later.store().list({.kind = "survey", .limit = 1});
    EXPECT_EQ(newest->things.front().fields["begun_at"].get<std::string>().substr(0, 10),
              inference::to_text(demo_day + std::chrono::days(196)));
}

TEST(TheDemo, is_not_poured_into_a_record_that_has_it_already) {
    const std::size_t before = demo().all("reading").size();
    const auto twice = fill_demo(demo().store(), demo_day);
    ASSERT_FALSE(twice);
    EXPECT_EQ(twice.error().trouble, record::Trouble::taken);
    EXPECT_EQ(demo().all("reading").size(), before) << "all or nothing";
}

}  // namespace
}  // namespace dapple::server
