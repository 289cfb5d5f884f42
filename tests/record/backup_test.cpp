#include "record/backup.h"

#include <gtest/gtest.h>

#include <fstream>
#include <thread>

#include "record/migrations.h"
#include "record/on_both.h"
#include "record/own_postgresql.h"

namespace dapple::tests {

using record::BackupReport;
using record::Result;
using record::Thing;
using record::Trouble;

namespace {

void fill(record::Store& store) {
    must(store.write(me, making("enclosure", {{"document", document("north", "Süd 'wall' \"2\"\nnext")}})));
    const Thing lamp = must(store.write(me, making("lamp", {{"name", "Tube"}, {"power_w", 39.1}})));
    must(store.write(me, changing(lamp, {{"name", "Tube"}, {"enclosure", "north"}})));
    for (const double value : {1.0 / 3, -0.1, 6e-300}) {
        record::Write reading = making("reading", {{"enclosure", "north"},
                                                   {"quantity", "uvi"},
                                                   {"value", value},
                                                   {"taken_at", "2026-02-14T10:05:00Z"}});
        reading.key = "k" + std::to_string(value);
        must(store.write(me, reading));
    }
}

BackupReport must(const Result<BackupReport>& report) {
    if (!report) throw std::runtime_error(words_of(report.error()));
    return *report;
}

std::string words(const Result<BackupReport>& refused) {
    return refused ? "not refused" : words_of(refused.error());
}

}  // namespace

TEST_P(OnBoth, a_record_goes_from_one_database_to_the_other_and_back_without_loss) {
    fill(*store);
    const std::string there = folder.file("there.backup");
    const BackupReport first = must(back_up(*store, there));
    EXPECT_EQ(first.rows.at("readings"), 3);
    EXPECT_EQ(first.rows.at("versions"), 1);
    EXPECT_EQ(first.rows.at("answers"), 3);

    record::StoreOptions other =
        options(GetParam() == On::sqlite ? own_postgresql().new_database() : folder.file("other.sqlite"));
    EXPECT_EQ(must(restore(there, other)).digest, first.digest);
    const auto moved = open(other.database);
    EXPECT_EQ(must(digest(*moved)).digest, first.digest);
    EXPECT_EQ(to_json(*moved->find("enclosure", "north")), to_json(*store->find("enclosure", "north")));

    const std::string back = folder.file("back.backup");
    EXPECT_EQ(must(back_up(*moved, back)).digest, first.digest);
    const std::string again = new_database();
    EXPECT_EQ(must(restore(back, options(again))).rows, first.rows);
    EXPECT_EQ(must(digest(*open(again))).digest, first.digest);
}

TEST_P(OnBoth, one_value_less_or_other_is_another_digest) {
    fill(*store);
    const std::string before = must(digest(*store)).digest;
    EXPECT_EQ(must(digest(*store)).digest, before);
    const Thing room = must(store->write(me, making("room", {{"name", "One"}})));
    const std::string after = must(digest(*store)).digest;
    EXPECT_NE(after, before);
    must(store->write(me, changing(room, {{"name", "one"}})));
    EXPECT_NE(must(digest(*store)).digest, after);
}

TEST_P(OnBoth, a_backup_taken_while_others_write_is_the_state_of_one_moment) {
    std::atomic<bool> enough = false;
    std::vector<std::thread> writers;
    for (int i = 0; i < 3; ++i) {
        writers.emplace_back([&] {
            while (!enough) tests::must(store->write(me, making("room", {{"name", "One"}})));
        });
    }
    const std::string file = folder.file("busy.backup");
    const auto taken = back_up(*store, file);
    enough = true;
    for (std::thread& writer : writers) writer.join();
    const BackupReport report = must(taken);
    // One line of the trail for every room and the site: nothing was caught halfway.
    EXPECT_EQ(report.rows.at("changes"), report.rows.at("rooms") + report.rows.at("sites"));
    const std::string again = new_database();
    must(restore(file, options(again)));
    const auto trail = open(again)->changes({.limit = 10'000});
    ASSERT_TRUE(trail);
    EXPECT_EQ(static_cast<std::int64_t>(trail->size()), report.rows.at("changes"));
    EXPECT_EQ(trail->back().seq, report.rows.at("changes"));
}

TEST_P(OnBoth, a_backup_of_an_earlier_version_is_brought_up_to_date) {
    for (int version = 1; version < record::newest_version(); ++version) {
        const std::string old = new_database();
        {
            record::Connection connection(old, record::Purpose::write);
            ASSERT_TRUE(migrate(connection, record::Moment{}, version));
        }
        const std::string file = folder.file("old-" + std::to_string(version));
        EXPECT_EQ(must(record::back_up(old, file)).rows.at("people"), 1);
        const std::string again = new_database();
        must(restore(file, options(again)));
        fill(*[&] {
            auto opened = open(again);
            tests::must(opened->write(me, making("site", {{"name", "Home"}}, "home", "")));
            return opened;
        }());
    }
}

TEST_P(OnBoth, a_backup_overwrites_no_file_and_a_restore_no_record) {
    fill(*store);
    const std::string file = folder.file("one.backup");
    must(back_up(*store, file));
    const auto twice = back_up(*store, file);
    ASSERT_FALSE(twice);
    EXPECT_EQ(twice.error().trouble, Trouble::taken) << words(twice);
    const std::string before = must(digest(*store)).digest;
    const auto over = restore(file, options(database));
    ASSERT_FALSE(over);
    EXPECT_EQ(over.error().trouble, Trouble::taken) << words(over);
    EXPECT_EQ(must(digest(*store)).digest, before);
}

TEST(Backup, that_cannot_be_written_or_read_says_so_and_leaves_nothing) {
    const Folder folder;
    auto store = record::Store::open({.database = folder.file("record.sqlite")});
    ASSERT_TRUE(store);
    EXPECT_FALSE(back_up(**store, folder.file("nowhere/at all")));
    EXPECT_EQ(record::back_up(folder.file("missing"), folder.file("b")).error().trouble, Trouble::missing);

    const std::string file = folder.file("good.backup");
    must(back_up(**store, file));
    const auto into = [&folder](const std::string& name) {
        record::StoreOptions options;
        options.database = folder.file(name);
        return options;
    };
    EXPECT_EQ(restore(folder.file("missing"), into("a")).error().trouble, Trouble::missing);
    std::ofstream(folder.file("other program's"))
        << "a text, and long enough to be taken for a database's head";
    EXPECT_EQ(restore(folder.file("other program's"), into("b")).error().trouble, Trouble::damaged);
    {
        std::fstream damage(file, std::ios::in | std::ios::out | std::ios::binary);
        damage.seekp(4096 + 8);  // the head of the second page
        damage << "damage damage damage damage";
    }
    const auto damaged = restore(file, into("c"));
    ASSERT_FALSE(damaged);
    EXPECT_EQ(damaged.error().trouble, Trouble::damaged) << words(damaged);
    EXPECT_NE(words(damaged).find("good.backup"), std::string::npos) << "names the file";
}

}  // namespace dapple::tests
