#include "record/migrations.h"

#include <gtest/gtest.h>

#include <fstream>

#include "record/on_both.h"

namespace dapple::tests {

using record::Connection;
using record::Purpose;
using record::Trouble;

namespace {

// As a program of that version left it: a site, and a room that was renamed once.
void leave_behind(const std::string& database, int version) {
    Connection connection(database, Purpose::write);
    if (!migrate(connection, record::Moment{}, version)) throw std::runtime_error("no migration");
    const std::string made = "1, '2026-01-05T00:00:00.000Z', 'local', '2026-01-05T00:00:00.000Z', 'local', ";
    const std::string common = " (id, site, revision, made_at, made_by, changed_at, changed_by, name) ";
    connection.run("insert into sites" + common + "values ('home', 'home', " + made + "'Home')");
    connection.run("insert into rooms" + common + "values ('south', 'home', " + made + "'South room')");
    connection.run("update rooms set revision = 2");
    connection.run(
        "insert into versions (kind, id, revision, changed_at, changed_by, fields) values ('room', 'south', "
        "1, "
        "'2026-01-05T00:00:00.000Z', 'local', '{\"name\": \"A room\"}')");
    for (const char* seq_and_deed : {"1, 1, 'create'", "2, 2, 'change'"}) {
        connection.run(
            std::string(
                "insert into changes (seq, revision, deed, done_at, done_by, kind, id, site) values (") +
            seq_and_deed + ", '2026-01-05T00:00:00.000Z', 'local', 'room', 'south', 'home')");
    }
}

std::int64_t newest_of(const std::string& database) {
    Connection connection(database, Purpose::inspect);
    return record::whole_of(connection.rows("select max(version) from dapple_versions", "i")[0][0]);
}

}  // namespace

TEST_P(OnBoth, a_record_of_every_earlier_version_is_brought_up_to_date_with_all_it_holds) {
    ASSERT_GE(record::newest_version(), 2);
    for (int version = 1; version < record::newest_version(); ++version) {
        const std::string old = new_database();
        leave_behind(old, version);
        EXPECT_EQ(newest_of(old), version);
        const auto opened = open(old);
        EXPECT_EQ(newest_of(old), record::newest_version());
        const auto history = opened->history("room", "south");
        ASSERT_TRUE(history) << words_of(history.error());
        ASSERT_EQ(history->size(), 2U);
        EXPECT_EQ((*history)[0].thing.fields["name"], "South room");
        EXPECT_EQ((*history)[1].thing.fields["name"], "A room");
        EXPECT_EQ(must(opened->write(me, changing((*history)[0].thing, {{"name", "Third"}}))).revision, 3);
    }
}

TEST_P(OnBoth, a_record_of_a_later_version_is_refused_with_what_to_do_and_not_touched) {
    store.reset();
    {
        Connection connection(database, Purpose::write);
        connection.run(
            "insert into dapple_versions (version, since) values (99, '2030-01-01T00:00:00.000Z')");
    }
    const auto refused = record::Store::open(options(database));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::too_new);
    for (const char* word : {"99", "install", "restore a backup", "nothing was changed"})
        EXPECT_NE(words_of(refused.error()).find(word), std::string::npos) << words_of(refused.error());
    EXPECT_EQ(newest_of(database), 99);
}

TEST_P(OnBoth, another_programs_database_is_refused_and_not_touched) {
    const std::string other = new_database();
    {
        Connection connection(other, Purpose::write);
        connection.run("create table recipes (id bigint)");
    }
    const auto refused = record::Store::open(options(other));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::invalid) << words_of(refused.error());
    Connection connection(other, Purpose::inspect);
    EXPECT_ANY_THROW(connection.rows("select count(*) from dapple_versions", "i"));
    EXPECT_EQ(record::whole_of(connection.rows("select count(*) from recipes", "i")[0][0]), 0);
}

TEST(Record, that_is_damaged_is_refused_at_the_start_and_says_to_restore_a_backup) {
    const Folder folder;
    record::StoreOptions options;
    options.database = folder.file("record.sqlite");
    ASSERT_TRUE(record::Store::open(options));
    {
        std::fstream file(options.database, std::ios::in | std::ios::out | std::ios::binary);
        file.seekp(4096 + 8);  // the second page's list of cells
        file << std::string(100, 'x');
    }
    const auto refused = record::Store::open(options);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::damaged) << words_of(refused.error());
    EXPECT_NE(words_of(refused.error()).find("dapple restore"), std::string::npos);
}

}  // namespace dapple::tests
