// What keepers do, what is due, and what the collection page shows.
#include <gtest/gtest.h>

#include "inference/life.h"
#include "record/collection.h"
#include "record/deeds.h"
#include "record/due.h"
#include "record/on_both.h"

namespace dapple::tests {

using nlohmann::json;
using record::Due;
using record::DueKind;
using record::Thing;
using record::Trouble;

namespace {

inference::Day day(const char* text) {
    return *inference::day_of(text);
}

template <class T>
T must_have(record::Result<T> result) {
    if (!result) throw std::runtime_error(words_of(result.error()));
    return std::move(*result);
}

json reading(const std::string& enclosure, const std::string& on, double value) {
    return {
        {"enclosure", enclosure}, {"spot", "bask"}, {"quantity", "uvi"}, {"value", value}, {"taken_at", on}};
}

std::vector<Due> due_on(const record::Store& store, const char* today) {
    record::LampLives lives;
    return must_have(record::due_list(store, lives, {"home"}, day(today)));
}

const Due* of_kind(const std::vector<Due>& list, DueKind kind) {
    for (const Due& due : list) {
        if (due.kind == kind) return &due;
    }
    return nullptr;
}

// A tube over the basking spot, for an animal whose band begins at 2.9 (zone 3).
json lit_document() {
    json with_lamp = document("north", "North box");
    with_lamp["animals"] = {{{"species", "crotaphytus_collaris"}, {"zone", {3}}, {"back_height_cm", 0.1}}};
    with_lamp["lamps"] = {{{"id", "uv"},
                           {"kind", "tube"},
                           {"length_cm", 85},
                           {"diameter_cm", 1.6},
                           {"centre_cm", {60, 30, 40}},
                           {"along", {1, 0, 0}},
                           {"aim", {0, 0, -1}},
                           {"spectrum", "fluorescent_uvb_strong"},
                           {"output", {{"uvi", 4.0}, {"at_cm", 30}}},
                           {"hours_on", 12}}};
    return with_lamp;
}

}  // namespace

TEST_P(OnBoth, an_animal_moves_and_the_move_is_kept) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    must(store->write(me, making("enclosure", {{"document", document("south")}})));
    const Thing animal = must(store->write(me, making("animal", {{"species", "x"}, {"enclosure", "north"}})));
    const auto done =
        must_have(record::move_animal(*store, me, animal.id, "south", "2026-03-02", "quieter", {1, "key"}));
    EXPECT_EQ(done.thing.fields["enclosure"], "south");
    EXPECT_EQ(done.event.fields["from_enclosure"], "north");
    // Sent again by a phone that got no answer: the same answer, one move.
    const auto again =
        must_have(record::move_animal(*store, me, animal.id, "south", "2026-03-02", "quieter", {1, "key"}));
    EXPECT_EQ(to_json(again.event), to_json(done.event));
    EXPECT_EQ(store->list({.kind = "move", .equal = {{"animal", animal.id}}})->things.size(), 1U);
    const auto out = must_have(record::move_animal(*store, me, animal.id, "", "2026-03-03", "", {2}));
    EXPECT_FALSE(out.thing.fields.contains("enclosure"));
    EXPECT_EQ(record::move_animal(*store, me, animal.id, "north", "2026-03-04", "", {2}).error().trouble,
              Trouble::conflict);
}

TEST_P(OnBoth, a_lamp_counts_its_hours_wherever_it_burns) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    must(store->write(me, making("enclosure", {{"document", document("south")}})));
    must(store->write(me, making("lamp", {{"name", "Tube"}, {"hours_on", 10}, {"hours_before", 5}}, "l")));
    EXPECT_EQ(*record::lamp_hours(*store, "l", "2026-03-01"), 5) << "in store it does not burn";
    must_have(record::place_lamp(*store, me, "l", {"north", "uv"}, "2026-01-01", "", {1}));
    EXPECT_EQ(*record::lamp_hours(*store, "l", "2026-01-31"), 5 + 30 * 10);
    const auto moved = must_have(record::place_lamp(*store, me, "l", {"south", "uv"}, "2026-01-31", "", {2}));
    EXPECT_EQ(moved.event.fields["what"], "moved");
    EXPECT_EQ(moved.event.fields["hours"], 305);
    EXPECT_EQ(*record::lamp_hours(*store, "l", "2026-02-10"), 305 + 10 * 10);
    must_have(record::remove_lamp(*store, me, "l", "2026-02-10", "", {3}));
    EXPECT_EQ(*record::lamp_hours(*store, "l", "2026-12-31"), 405);
}

TEST_P(OnBoth, a_new_lamp_takes_the_old_ones_place_in_one_deed) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    must(store->write(
        me, making("lamp",
                   {{"name", "Old"}, {"enclosure", "north"}, {"place", "uv"}, {"installed_on", "2025-03-01"}},
                   "old")));
    must(store->write(me, making("lamp", {{"name", "New"}}, "new")));
    const auto done = must_have(record::replace_lamp(*store, me, "old", "new", "2026-03-01", {1}, 1));
    EXPECT_EQ(done.old_lamp.thing.fields["retired_on"], "2026-03-01");
    EXPECT_FALSE(done.old_lamp.thing.fields.contains("enclosure"));
    EXPECT_EQ(done.new_lamp.thing.fields["enclosure"], "north");
    EXPECT_EQ(done.new_lamp.thing.fields["place"], "uv");
    EXPECT_FALSE(record::replace_lamp(*store, me, "old", "new", "2026-03-01", {2}, 2))
        << "a retired one has no place";
    EXPECT_EQ(store->list({.kind = "lamp_event"})->things.size(), 2U);
}

TEST_P(OnBoth, settling_a_fix_changes_the_enclosure_once) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    const Thing task = must(store->write(me, making("task", {{"title", "Raise the stone"},
                                                             {"enclosure", "north"},
                                                             {"fix", document("north", "Raised")}})));
    const auto done = record::settle_task(*store, me, task.id, true, {1, "key"});
    ASSERT_TRUE(done) << words_of(done.error());
    EXPECT_TRUE(done->fields.contains("done_on"));
    EXPECT_EQ(must(record::settle_task(*store, me, task.id, true, {1, "key"})).revision, 2);
    const auto enclosure = *store->find("enclosure", "north");
    EXPECT_EQ(enclosure.revision, 2);
    EXPECT_EQ(enclosure.fields["document"]["name"], "Raised");
}

TEST_P(OnBoth, what_is_due_comes_most_urgent_first_with_the_deed_that_settles_it) {
    must(store->write(
        me, making("enclosure", {{"document", document("north", "North box")}, {"survey_every_days", 20}})));
    must(store->write(me, making("enclosure", {{"document", document("fresh")}})));
    must(store->write(me, making("reading", reading("north", "2026-04-01T10:00:00Z", 3))));
    must(store->write(me, making("reading", reading("fresh", "2026-05-01T10:00:00Z", 3))));
    must(store->write(me, making("meter", {{"name", "Hand meter"}, {"measures", "uvi"}}, "m")));
    must(store->write(
        me, making("calibration", {{"meter", "m"}, {"calibrated_on", "2025-04-30"}, {"factor", 1.02}})));
    must(store->write(me, making("task", {{"title", "Order tubes"}, {"due_on", "2026-05-04"}})));
    must(store->write(me, making("task", {{"title", "Later"}, {"due_on", "2026-08-01"}})));
    must(store->write(
        me, making("task", {{"title", "Done"}, {"due_on", "2026-01-01"}, {"done_on", "2026-01-02"}})));

    const auto list = due_on(*store, "2026-05-05");
    ASSERT_EQ(list.size(), 3U);
    EXPECT_EQ(list[0].title, "Survey North box");
    EXPECT_EQ(list[0].days_over, 14);
    EXPECT_EQ(list[0].why, "Last read 34 days ago; every 20 days.");
    EXPECT_EQ(list[0].settling, record::Settling::survey_enclosure);
    EXPECT_EQ(list[1].title, "Calibrate Hand meter");
    EXPECT_EQ(list[1].days_over, 5);
    EXPECT_EQ(list[2].title, "Order tubes");

    must(store->write(me, making("reading", reading("north", "2026-05-05T10:00:00Z", 3))));
    must(store->write(
        me, making("calibration", {{"meter", "m"}, {"calibrated_on", "2026-05-05"}, {"factor", 1}})));
    EXPECT_EQ(due_on(*store, "2026-05-05").size(), 1U) << "settled";
}

TEST_P(OnBoth, an_enclosure_never_read_is_due_from_its_first_day) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    const auto list = due_on(*store, "2026-03-03");
    ASSERT_EQ(list.size(), 1U);
    EXPECT_EQ(list[0].days_over, 2);
    EXPECT_EQ(list[0].why, "It was never read.");
}

TEST_P(OnBoth, a_lamp_is_due_by_its_readings_and_again_when_they_change) {
    must(store->write(me, making("enclosure", {{"document", lit_document()}})));
    must(store->write(me, making("lamp", {{"name", "North tube"},
                                          {"lamp_kind", "fluorescent_tube"},
                                          {"enclosure", "north"},
                                          {"place", "uv"},
                                          {"installed_on", "2025-06-01"},
                                          {"hours_on", 12}})));
    // Half the output in 3000 hours: 2.9 is left some 1300 hours, 107 days, after 3.9.
    std::vector<record::Write> writes;
    for (int month = 0; month < 6; ++month) {
        const auto on = inference::to_text(day("2025-06-20") + std::chrono::days(30 * month));
        for (int i = 0; i < 3; ++i) {
            writes.push_back(making("reading", reading("north", on + "T10:00:00Z",
                                                       3.9 * std::pow(0.5, 12.0 * 30 * month / 3000))));
        }
    }
    for (const auto& answer : store->write_each(me, writes)) must(answer);

    record::LampLives lives;
    const auto today = day("2025-11-20");
    const auto list = must_have(record::due_list(*store, lives, {"home"}, today));
    const Due* lamp = of_kind(list, DueKind::lamp);
    ASSERT_NE(lamp, nullptr);
    EXPECT_EQ(lamp->settling, record::Settling::replace_lamp);
    EXPECT_NEAR(inference::days_between(day("2025-10-06"), lamp->due), 0, 25) << lamp->why;

    // A meter that turns out to read low makes the lamp younger.
    const auto before = must_have(lives.of_sites(*store, {"home"}, today));
    ASSERT_TRUE(before.at(0).life);
    must(store->write(me, making("reading", reading("north", "2025-11-19T10:00:00Z", 3.9))));
    const auto after = must_have(lives.of_sites(*store, {"home"}, today));
    EXPECT_NE(after.at(0).life->alpha, before.at(0).life->alpha) << "a new reading was taken in";
}

TEST_P(OnBoth, the_collection_page_shows_each_enclosure_as_it_was_last_read) {
    must(store->write(me, making("room", {{"name", "South room"}}, "r")));
    must(store->write(
        me,
        making("enclosure", {{"document", document("north")}, {"room", "r"}, {"survey_every_days", 10}})));
    must(store->write(me, making("enclosure", {{"document", document("south")}})));
    must(store->write(me, making("animal", {{"species", "x"}, {"name", "Tango"}, {"enclosure", "north"}})));
    must(store->write(me, making("lamp", {{"name", "Tube"}, {"enclosure", "north"}})));
    must(store->write(me, making("task", {{"title", "Clean"}, {"enclosure", "north"}})));
    must(store->write(me, making("reading", reading("north", "2026-02-01T10:00:00Z", 9))));
    for (const double value : {3.0, 3.2, 7.0}) {
        must(store->write(me, making("reading", reading("north", "2026-02-14T10:00:00Z", value))));
    }
    Thing mistake = must(store->write(me, making("reading", reading("north", "2026-02-20T10:00:00Z", 100))));
    record::Write retire;
    retire.deed = record::Deed::retire;
    retire.kind = "reading";
    retire.id = mistake.id;
    retire.seen = 1;
    must(store->write(me, retire));

    const auto cards = must_have(record::collection(*store, {"home"}));
    ASSERT_EQ(cards.size(), 2U);
    EXPECT_EQ(cards[0].enclosure.id, "north");
    EXPECT_EQ(cards[0].room_name, "South room");
    EXPECT_EQ(cards[0].animals.at(0).fields["name"], "Tango");
    EXPECT_EQ(cards[0].lamps, 1);
    EXPECT_EQ(cards[0].open_tasks, 1);
    EXPECT_EQ(cards[0].last_survey, "2026-02-14");
    EXPECT_EQ(cards[0].next_survey, "2026-02-24");
    ASSERT_EQ(cards[0].readings.size(), 1U);
    EXPECT_EQ(cards[0].readings[0].value, 3.2) << "the median of the day";
    EXPECT_EQ(cards[1].last_survey, "");
    EXPECT_TRUE(must_have(record::collection(*store, {})).empty());
}

}  // namespace dapple::tests
