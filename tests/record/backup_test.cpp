#include "record/backup.h"

#include <gtest/gtest.h>

#include <fstream>
#include <thread>

#include "record/on_both.h"
#include "record/people.h"

namespace dapple::tests {

using nlohmann::json;
using record::Trouble;

TEST_P(OnBoth, a_backup_holds_every_row_and_goes_into_either_database) {
    must(store->write(me, making("room", {{"name", "A, \"B\"\nC; ü"}}, "r")));
    const auto box =
        must(store->write(me, making("enclosure", {{"document", document("north")}, {"room", "r"}})));
    must(store->write(me, changing(box, {{"document", document("north", "Renamed")}})));
    auto reading = making(
        "reading",
        {{"enclosure", "north"}, {"quantity", "uvi"}, {"value", 0.1 + 0.2}, {"taken_at", "2026-02-01"}});
    reading.key = "k";
    must(store->write(me, reading));
    const auto person =
        must(record::make_first_account(*store, {"Somebody", "some@where", "a long password"}, ""));
    ASSERT_TRUE(record::begin_session(*store, person.id));
    ASSERT_TRUE(record::invite(*store, {person.id}, "home", record::Role::keeper));

    const auto whole = record::digest(*store);
    ASSERT_TRUE(whole);
    const auto report = record::back_up(*store, folder.file("backup"));
    ASSERT_TRUE(report) << words_of(report.error());
    EXPECT_EQ(report->digest, whole->digest);
    EXPECT_EQ(report->rows.at("versions"), 1);

    // There and, through the other database, back again.
    std::string file = folder.file("backup");
    for (const On next : {GetParam() == On::sqlite ? On::postgresql : On::sqlite, GetParam()}) {
        const std::string where = new_database_on(next);
        const auto restored = record::restore(file, options(where));
        ASSERT_TRUE(restored) << words_of(restored.error());
        const auto there = open(where);
        EXPECT_EQ(record::digest(*there)->digest, whole->digest);
        EXPECT_TRUE(record::check_password(*there, "some@where", "a long password"));
        EXPECT_EQ(must(there->write(me, reading)).revision, 1) << "the key is known there, too";
        EXPECT_EQ(there->list({.kind = "reading"})->things.size(), 1U);
        file = folder.file("backup-" + std::to_string(static_cast<int>(next)));
        ASSERT_TRUE(record::back_up(*there, file));
    }
}

TEST_P(OnBoth, a_backup_taken_while_people_write_is_of_one_moment) {
    std::atomic<bool> stop = false;
    // Rooms come in pairs, all or none; a backup that caught half a pair would show an odd number.
    std::thread writer([&] {
        while (!stop)
            ASSERT_TRUE(
                store->write_all(me, {making("room", {{"name", "a"}}), making("room", {{"name", "b"}})}));
    });
    for (int i = 0; i < 5; ++i) {
        const auto report = record::back_up(*store, folder.file("b" + std::to_string(i)));
        ASSERT_TRUE(report) << words_of(report.error());
        EXPECT_EQ(report->rows.at("rooms") % 2, 0);
    }
    stop = true;
    writer.join();
}

TEST_P(OnBoth, a_restore_never_pours_into_a_record_that_holds_something) {
    ASSERT_TRUE(record::back_up(*store, folder.file("backup")));
    const auto again = record::back_up(*store, folder.file("backup"));
    ASSERT_FALSE(again);
    EXPECT_EQ(again.error().trouble, Trouble::taken);
    const auto refused = record::restore(folder.file("backup"), options(database));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::taken);
}

TEST_P(OnBoth, a_file_that_is_no_backup_is_refused_and_the_database_left_empty) {
    std::ofstream(folder.file("letter")) << std::string(100'000, 'x');
    const std::string where = new_database();
    const auto refused = record::restore(folder.file("letter"), options(where));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::damaged) << words_of(refused.error());
    EXPECT_FALSE(record::restore(folder.file("nothing"), options(where)));
}

}  // namespace dapple::tests
