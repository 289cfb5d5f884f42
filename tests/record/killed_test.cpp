#include "record/killed.h"

#include <gtest/gtest.h>

#include "record/on_both.h"
#include "record/own_postgresql.h"

namespace dapple::tests {

namespace {

std::string lines(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += word + "\n";
    return text;
}

}  // namespace

TEST(Killed, at_any_moment_a_record_in_a_file_has_every_answered_write_and_none_twice) {
    const Folder folder;
    const KillReport report = kill_writers({.database = folder.file("record.sqlite"), .cycles = 10});
    EXPECT_EQ(lines(report.faults), "");
    EXPECT_EQ(report.cycles, 10);
    EXPECT_GT(report.answered, 20) << "else nothing was under load when it was killed";
}

TEST(Killed, with_its_postgresql_at_any_moment_a_record_has_every_answered_write_and_none_twice) {
    OwnPostgresql& server = own_postgresql();
    const KillReport report =
        kill_writers({.database = server.new_database(), .cycles = 3, .kill_database = [&server] {
                          server.stop();
                          server.start();
                      }});
    EXPECT_EQ(lines(report.faults), "");
    EXPECT_EQ(report.cycles, 3);
    EXPECT_GT(report.answered, 5) << "else nothing was under load when it was killed";
}

}  // namespace dapple::tests
