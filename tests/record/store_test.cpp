#include "record/store.h"

#include <gtest/gtest.h>

#include <thread>

#include "record/on_both.h"

namespace dapple::tests {

using nlohmann::json;
using record::Deed;
using record::Thing;
using record::Trouble;

namespace {

json a_reading(double value = 3.4) {
    return {{"enclosure", "north"},
            {"spot", "bask"},
            {"quantity", "uvi"},
            {"value", value},
            {"taken_at", "2026-02-14T10:05:00+01:00"}};
}

}  // namespace

TEST_P(OnBoth, what_was_written_is_read_as_it_was_written) {
    const Thing room =
        must(store->write(me, making("room", {{"name", "Süd: 'two' \"walls\""}, {"note", ""}})));
    const auto found = store->find("room", room.id);
    ASSERT_TRUE(found);
    EXPECT_EQ(to_json(*found), to_json(room));
    EXPECT_EQ(found->fields, json({{"name", "Süd: 'two' \"walls\""}}));  // the empty note is not set
    EXPECT_EQ(found->revision, 1);
    EXPECT_EQ(found->made_by, "local");
    EXPECT_EQ(found->id.size(), 26U);
}

TEST_P(OnBoth, numbers_keep_every_bit) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    for (const double value : {0.1, 1.0 / 3, 1e-300, 6.02214076e8, -0.30000000000000004}) {
        const Thing reading = must(store->write(me, making("reading", a_reading(value))));
        EXPECT_EQ(store->find("reading", reading.id)->fields["value"].get<double>(), value);
    }
}

TEST_P(OnBoth, moments_are_kept_in_universal_time) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    const Thing reading = must(store->write(me, making("reading", a_reading())));
    EXPECT_EQ(reading.fields["taken_at"], "2026-02-14T09:05:00.000Z");
}

TEST_P(OnBoth, everything_wrong_with_a_write_is_said_at_once) {
    const auto refused = store->write(
        me, making("reading", {{"enclosure", "north"}, {"quantity", "uv"}, {"value", "much"}, {"spots", 3}}));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::invalid);
    EXPECT_EQ(refused.error().problems.size(), 4U) << to_text(refused.error().problems);
    EXPECT_NE(to_text(refused.error().problems).find("did you mean spot?"), std::string::npos);
}

TEST_P(OnBoth, a_document_the_engine_cannot_read_is_refused) {
    json bad = document("north");
    bad["size_cm"] = {120, -60, 60};
    const auto refused = store->write(me, making("enclosure", {{"document", bad}}));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::invalid);
    EXPECT_NE(to_text(refused.error().problems).find("size_cm"), std::string::npos);
}

TEST_P(OnBoth, a_write_that_did_not_see_the_last_one_is_refused_with_both_versions) {
    const Thing first = must(store->write(me, making("room", {{"name", "One"}})));
    const Thing second = must(store->write(me, changing(first, {{"name", "Two"}})));
    EXPECT_EQ(second.revision, 2);
    const auto refused = store->write(me, changing(first, {{"name", "Three"}}));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::conflict);
    EXPECT_EQ(refused.error().theirs->fields["name"], "Two");
    EXPECT_EQ(refused.error().yours->fields["name"], "Three");
    EXPECT_EQ(store->find("room", first.id)->fields["name"], "Two");
}

TEST_P(OnBoth, of_many_writers_who_saw_the_same_only_one_wins) {
    const Thing room = must(store->write(me, making("room", {{"name", "One"}})));
    std::atomic<int> won = 0;
    std::vector<std::thread> writers;
    for (int i = 0; i < 8; ++i) {
        writers.emplace_back([&, i] {
            won += store->write(me, changing(room, {{"name", std::to_string(i)}})) ? 1 : 0;
        });
    }
    for (std::thread& writer : writers) writer.join();
    EXPECT_EQ(won, 1);
    EXPECT_EQ(store->find("room", room.id)->revision, 2);
}

TEST_P(OnBoth, a_reading_sent_twice_with_one_key_is_there_once_and_answered_the_same) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    record::Write write = making("reading", a_reading());
    write.key = "phone-7-0001";
    const Thing first = must(store->write(me, write));
    const Thing changed = must(store->write(me, changing(first, a_reading(3.5))));
    const Thing again = must(store->write(me, write));
    EXPECT_EQ(to_json(again), to_json(first)) << "also after it was corrected";
    store.reset();
    store = open(database);
    EXPECT_EQ(to_json(must(store->write(me, write))), to_json(first)) << "also after a restart";
    EXPECT_EQ(store->list({.kind = "reading"})->things.size(), 1U);

    write.fields["value"] = 9.9;
    const auto reused = store->write(me, write);
    ASSERT_FALSE(reused);
    EXPECT_EQ(reused.error().trouble, Trouble::reused_key);
    EXPECT_EQ(changed.revision, 2);
}

TEST_P(OnBoth, a_key_is_its_writers_own) {
    const Thing other = must(store->write(me, making("person", {{"name", "Other"}}, "", "")));
    record::Write write = making("room", {{"name", "One"}});
    write.key = "0001";
    const Thing mine = must(store->write(me, write));
    const Thing theirs = must(store->write({other.id}, write));
    EXPECT_NE(mine.id, theirs.id);
}

TEST_P(OnBoth, offline_readings_are_answered_one_by_one) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    std::vector<record::Write> writes(4, making("reading", a_reading()));
    for (std::size_t i = 0; i < 4; ++i) writes[i].key = "k" + std::to_string(i);
    writes[1].fields["value"] = "wrong";
    writes[2].fields["enclosure"] = "elsewhere";
    const auto answers = store->write_each(me, writes);
    ASSERT_EQ(answers.size(), 4U);
    EXPECT_TRUE(answers[0]);
    EXPECT_EQ(answers[1].error().trouble, Trouble::invalid);
    EXPECT_EQ(answers[2].error().trouble, Trouble::missing);
    EXPECT_TRUE(answers[3]);
    EXPECT_EQ(store->list({.kind = "reading"})->things.size(), 2U);
}

TEST_P(OnBoth, all_or_none_leaves_nothing_of_a_refused_set) {
    const auto refused = store->write_all(
        me,
        {making("room", {{"name", "One"}}), making("animal", {{"species", "x"}, {"enclosure", "nowhere"}})});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::missing);
    EXPECT_TRUE(store->list({.kind = "room"})->things.empty());
    const auto done = store->write_all(me, {making("enclosure", {{"document", document("north")}}),
                                            making("animal", {{"species", "x"}, {"enclosure", "north"}})});
    ASSERT_TRUE(done) << words_of(done.error());
}

TEST_P(OnBoth, things_of_another_site_cannot_be_referred_to) {
    must(store->write(me, making("site", {{"name", "Away"}}, "away", "")));
    must(store->write(me, making("enclosure", {{"document", document("far")}}, "", "away")));
    const auto refused = store->write(me, making("animal", {{"species", "x"}, {"enclosure", "far"}}));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::invalid);
}

TEST_P(OnBoth, history_keeps_every_revision_and_any_can_come_back) {
    Thing lamp = must(store->write(me, making("lamp", {{"name", "Tube"}, {"power_w", 39}})));
    lamp = must(store->write(me, changing(lamp, {{"name", "Tube 2"}})));
    record::Write write;
    write.kind = "lamp";
    write.id = lamp.id;
    write.seen = 2;
    write.deed = Deed::retire;
    write.why = "broken";
    lamp = must(store->write(me, write));
    EXPECT_TRUE(lamp.retired_at);
    EXPECT_TRUE(store->list({.kind = "lamp"})->things.empty());
    EXPECT_EQ(store->list({.kind = "lamp", .retired = true})->things.size(), 1U);
    write.deed = Deed::reinstate;
    write.seen = 3;
    must(store->write(me, write));
    write.deed = Deed::restore;
    write.seen = 4;
    write.revision = 1;
    lamp = must(store->write(me, write));
    EXPECT_EQ(lamp.fields, json({{"name", "Tube"}, {"power_w", 39.0}}));
    EXPECT_FALSE(lamp.retired_at);

    const auto history = store->history("lamp", lamp.id);
    ASSERT_TRUE(history);
    ASSERT_EQ(history->size(), 5U);
    EXPECT_EQ((*history)[0].deed, Deed::restore);
    EXPECT_EQ((*history)[2].why, "broken");
    EXPECT_TRUE((*history)[2].thing.retired_at);
    EXPECT_EQ((*history)[3].thing.fields["name"], "Tube 2");
    EXPECT_EQ((*history)[4].thing.fields["power_w"], 39);
    EXPECT_EQ((*history)[4].deed, Deed::create);
}

TEST_P(OnBoth, the_trail_counts_every_deed_without_a_gap) {
    const auto before = store->changes({})->back().seq;
    for (int i = 0; i < 20; ++i) must(store->write(me, making("room", {{"name", std::to_string(i)}})));
    (void)store->write(me, making("room", {{"name", 3}}));  // refused: no line
    const auto trail = store->changes({.after = before, .sites = {{"home"}}, .kind = "room"});
    ASSERT_TRUE(trail);
    ASSERT_EQ(trail->size(), 20U);
    for (std::size_t i = 0; i < 20; ++i)
        EXPECT_EQ((*trail)[i].seq, before + 1 + static_cast<std::int64_t>(i));
    EXPECT_EQ(trail->back().deed, "create");
    EXPECT_EQ(trail->back().by, "local");
    EXPECT_TRUE(store->changes({.sites = {std::vector<std::string>{}}})->empty())
        << "no site, nothing to see";
}

TEST_P(OnBoth, who_waits_for_a_change_is_woken_by_it) {
    const auto before = store->changes({})->back().seq;
    EXPECT_EQ(*store->wait_for_change(before, std::chrono::milliseconds(1)), before);
    std::thread writer([&] { must(store->write(me, making("room", {{"name", "One"}}))); });
    EXPECT_EQ(*store->wait_for_change(before, std::chrono::seconds(20)), before + 1);
    writer.join();
}

TEST_P(OnBoth, lists_go_page_by_page_from_the_newest) {
    must(store->write(me, making("enclosure", {{"document", document("north")}})));
    for (int i = 0; i < 25; ++i) {
        json reading = a_reading(i);
        reading["taken_at"] = "2026-02-" + std::to_string(1 + i % 5 + 10) + "T10:00:00Z";
        must(store->write(me, making("reading", reading)));
    }
    record::Query query{.kind = "reading", .equal = {{"enclosure", "north"}}, .limit = 10};
    std::vector<std::string> seen;
    std::string last = "9999";
    for (int page = 0; page < 3; ++page) {
        const auto answer = store->list(query);
        ASSERT_TRUE(answer) << words_of(answer.error());
        for (const Thing& thing : answer->things) {
            EXPECT_LE(thing.fields["taken_at"].get<std::string>(), last);
            last = thing.fields["taken_at"].get<std::string>();
            seen.push_back(thing.id);
        }
        query.after = answer->next;
        EXPECT_EQ(answer->next.empty(), page == 2);
    }
    std::sort(seen.begin(), seen.end());
    EXPECT_EQ(std::unique(seen.begin(), seen.end()) - seen.begin(), 25);

    query.after.clear();
    query.from = "2026-02-12";
    query.before = "2026-02-13";
    EXPECT_EQ(store->list(query)->things.size(), 5U);
    EXPECT_FALSE(store->list({.kind = "reading", .equal = {{"value; drop table readings", "3"}}}));
}

TEST_P(OnBoth, two_stores_on_one_database_lose_nothing_and_see_each_other) {
    const auto other = open(database);
    const auto before = store->changes({})->back().seq;
    std::vector<std::thread> writers;
    for (record::Store* one : {store.get(), other.get()}) {
        for (int t = 0; t < 3; ++t) {
            writers.emplace_back([one] {
                for (int i = 0; i < 20; ++i)
                    must(one->write(me, making("room", {{"name", std::to_string(i)}})));
            });
        }
    }
    for (std::thread& writer : writers) writer.join();
    const auto trail = store->changes({.after = before});
    ASSERT_EQ(trail->size(), 120U);
    EXPECT_EQ(trail->back().seq, before + 120);
}

}  // namespace dapple::tests
