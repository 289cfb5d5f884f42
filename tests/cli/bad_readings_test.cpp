// Readings nobody should have to be good at writing: each is refused with the line and the remedy, or used with a word
// on what was left out; by every command that takes readings, in the same words.
#include <gtest/gtest.h>

#include <algorithm>

#include "cli/console.h"

namespace dapple::tests {

namespace {

const std::vector<const char*> commands = {"fit", "check", "next"};

Outcome with_readings(const std::string& command, const std::string& file) {
    return dapple({command, "-", "--readings", file}, small_pen);
}

// What is said, in one line, however it was wrapped.
std::string unwrapped(std::string text) {
    std::string one;
    for (const char c : text) {
        const char plain = c == '\n' ? ' ' : c;
        if (plain != ' ' || one.empty() || one.back() != ' ') one += plain;
    }
    return one;
}

}  // namespace

TEST(BadReadings, are_refused_by_every_command_with_the_line_and_the_remedy) {
    struct Bad {
        const char* text;
        const char* message;  // after the file's name
    };
    const std::vector<Bad> table = {
        {"", ": found nothing; allowed: readings: a line of headers, then one reading a line\n"},
        {"\xEF\xBB\xBF\r\n \n",
         ": found nothing; allowed: readings: a line of headers, then one reading a line\n"},
        {"date,spot,uvi\n", ": found headers and no reading; allowed: one reading a line\n"},
        {"[]", ": found headers and no reading; allowed: one reading a line\n"},
        {"spot,uvi\nflat stoen,3\n",
         " at line 2: found the spot \"flat stoen\"; allowed: \"Flat stone\", or another of bask, cool\n"},
        {"spot,uvi\nbask,-1\n", " at line 2: found \"-1\"; allowed: 0 or more: light is never negative\n"},
        {"spot,uvi\nbask,12000\n",
         " at line 2: found \"12000\" as UVI; allowed: a UV index; brightness is written as lux\n"},
        {"spot,uvi\nbask,3.1 lux\n",
         " at line 2: found \"3.1 lux\" where another unit is named; allowed: one unit for a value\n"},
        {"spot,quantity,unit,value\nbask,uvi,lux,3\n",
         " at line 2: found \"uvi\" in \"lux\"; allowed: a unit of the quantity, or no unit\n"},
        {"spot,quantity,value\nbask,uvb,3\n",
         " at line 2: found \"uvb\" without a unit; allowed: uvb_w_m2 or uvb_uw_cm2\n"},
        {"spot,uvi\nbask,3,1\n",
         " at line 2: found \"1\" in a column without a header; allowed: 2 cells, as in the first line; a "
         "decimal "
         "comma needs quotes, or semicolons between the cells\n"},
        {"date,spot,uvi\n2026-02-30,bask,3\n",
         " at line 2: found \"2026-02-30\"; allowed: a date as YYYY-MM-DD, with a time as YYYY-MM-DDThh:mm "
         "or "
         "without\n"},
        {"x_cm,y_cm,z_cm,uvi\n90,1,1,3\n",
         " at line 2: found a place outside the box (90, 1, 1 cm); allowed: x 0 to 60, y 0 to 40, z 0 to 50 "
         "cm\n"},
        {"enclosure,spot,uvi\nshed,bask,3\n",
         ": found 1 reading, none of enclosure \"pen\"; allowed: at least one reading of this enclosure\n"},
    };
    const Folder folder;
    for (const Bad& bad : table) {
        const std::string file = folder.write("book.csv", bad.text);
        for (const char* command : commands) {
            const Outcome outcome = with_readings(command, file);
            EXPECT_EQ(outcome.status, 2) << command << " of " << bad.text;
            EXPECT_EQ(outcome.out, "") << command << " of " << bad.text;
            EXPECT_EQ(outcome.err, file + bad.message) << command << " of " << bad.text;
        }
    }
}

TEST(BadReadings, from_the_future_are_refused_with_todays_date) {
    const Folder folder;
    const std::string file = folder.write("book.csv", "date,spot,uvi\n2999-01-01,bask,3\n");
    const std::string message =
        file + " at line 2: found the future date \"2999-01-01\"; allowed: dates until today, 20";
    for (const char* command : commands) {
        const Outcome outcome = with_readings(command, file);
        EXPECT_EQ(outcome.status, 2) << command;
        EXPECT_EQ(outcome.err.rfind(message, 0), 0U) << command << ": " << outcome.err;
    }
}

TEST(BadReadings, are_all_named_and_not_only_the_first) {
    const Folder folder;
    const std::string file = folder.write("book.csv", "spot,uvi\nbask,-1\ncool,much\nbask,3\nnowhere,2\n");
    for (const char* command : commands) {
        const Outcome outcome = with_readings(command, file);
        EXPECT_EQ(outcome.status, 2) << command;
        EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 3) << outcome.err;
        for (const char* line : {"line 2", "line 3", "line 5"}) {
            EXPECT_NE(outcome.err.find(line), std::string::npos) << command << ": " << outcome.err;
        }
    }
}

TEST(OddReadings, are_used_with_a_word_on_what_was_left_out) {
    struct Odd {
        const char* text;
        std::vector<std::string> beside;  // on standard error, after the file's name, in full
        std::vector<std::string> said;    // in the answer of every command
    };
    const std::vector<Odd> table = {
        {"spot,uvi\nbask,3.6\n", {}, {}},
        {"date,spot,uvi\n2026-03-01,bask,3.6\n2026-03-01,bask,3.6\n",
         {" at line 3: found the same as line 2 in every cell; allowed: each reading once; give the time of "
          "day if it "
          "was read again\n"},
         {}},
        {"enclosure,spot,uvi\npen,bask,3.6\nshed,bask,3\n",
         {" at line 3: found a reading of enclosure \"shed\"; allowed: readings of \"pen\"\n"},
         {}},
        // In mW/m2, every one: 25 times too much.
        {"x_cm,y_cm,z_cm,uvi\n20,20,20,90\n30,20,20,95\n40,20,20,88\n30,25,20,99\n",
         {},
         {"4 of 4 readings were set aside: either the document is not this enclosure, or the meter or its "
          "unit is not "
          "what the readings say.",
          "(line 2)", "(line 3)", "(line 4)", "(line 5)", "it may be in mW/m2 instead of UVI"}},
        {"date,spot,uvi\n2026-03-01,bask,0\n2026-03-01,cool,0\n",
         {},
         {"2 of 2 readings were set aside", "Flat stone on 2026-03-01 (line 2)",
          "Corner on 2026-03-01 (line 3)", "uv was off"}},
        {"date,spot,temperature_c\n2026-03-01,bask,35\n",
         {},
         {"Flat stone on 2026-03-01 (line 2) is a temperature, which says nothing of the lamps' light."}},
        // Many that agree, and with no lamp that is likely.
        {"x_cm,y_cm,z_cm,uvi\n10,20,20,0.62\n15,20,20,0.9\n20,20,20,1.2\n25,20,20,1.35\n30,20,20,1.4\n35,20,"
         "20,1.35\n"
         "40,20,20,1.2\n45,20,20,0.9\n50,20,20,0.62\n",
         {},
         {"The readings want the output of uv to be 0.", "further off than is likely"}},
    };
    const Folder folder;
    for (const Odd& odd : table) {
        const std::string file = folder.write("book.csv", odd.text);
        std::string beside;
        for (const std::string& line : odd.beside) beside += file + line;
        for (const char* command : commands) {
            const Outcome outcome = with_readings(command, file);
            EXPECT_EQ(outcome.status, 0) << command << " of " << odd.text << outcome.err;
            EXPECT_EQ(outcome.err, beside) << command << " of " << odd.text;
            const std::string answer = unwrapped(outcome.out);
            for (const std::string& words : odd.said) {
                EXPECT_NE(answer.find(words), std::string::npos)
                    << command << " does not say: " << words << "\n"
                    << outcome.out;
            }
        }
    }
}

TEST(BadLampReadings, are_refused_with_the_line_and_the_remedy) {
    struct Bad {
        const char* text;
        const char* message;  // after the input's name
    };
    const std::vector<Bad> table = {
        {"", ": found nothing; allowed: a line of headers, then readings, one a line\n"},
        {"date,lamp,value\n", ": found headers and no reading; allowed: one reading a line\n"},
        {"date,lamp,value\n2026-02-30,uv,4\n",
         " at line 2: found \"2026-02-30\"; allowed: a date as YYYY-MM-DD\n"},
        {"date,lamp,value\n2026-07-01,uv,4\n",
         " at line 2: found the future date \"2026-07-01\"; allowed: dates until today, 2026-06-01\n"},
        {"date,lamp,value\n2026-03-01,,4\n",
         " at line 2: found no lamp; allowed: the id of the lamp that was read\n"},
        {"date,lamp,uvi\n2026-03-01,uv,4 lux\n",
         " at line 2: found \"4 lux\" where another unit is announced; allowed: the unit of the column\n"},
        {"date,lamp,quantity,uvi\n2026-03-01,uv,lux,4\n",
         " at line 2: found the quantity \"lux\" in the column uvi; allowed: the column's own quantity, or a "
         "column "
         "named value\n"},
    };
    for (const Bad& bad : table) {
        const Outcome outcome = dapple({"life", "--readings", "-", "--today", "2026-06-01"}, bad.text);
        EXPECT_EQ(outcome.status, 2) << bad.text;
        EXPECT_EQ(outcome.out, "") << bad.text;
        EXPECT_EQ(outcome.err, std::string("standard input") + bad.message) << bad.text;
    }
}

TEST(OddLampReadings, are_used_with_a_word_on_what_was_left_out) {
    struct Odd {
        const char* text;
        const char* said;
    };
    const std::vector<Odd> table = {
        {"date,lamp,value\n2026-03-01,uv,4\n", "One reading tells how bright"},
        {"date,lamp,value\n2026-03-01,uv,4\n2026-03-01,uv,4\n2026-05-01,uv,3.8\n",
         "line 2, line 3: 2 readings of one place and time count as one"},
        {"date,lamp,value\n2026-03-01,uv,0\n2026-04-01,uv,0\n2026-05-01,uv,0\n",
         "least a hand-held meter tells"},
        {"date,lamp,value\n2026-01-01,uv,6\n2026-01-20,uv,5.9\n2026-02-10,uv,5.8\n2026-03-01,uv,1.2\n"
         "2026-03-20,uv,5.7\n2026-04-10,uv,5.6\n2026-05-01,uv,5.5\n",
         "line 5"},
    };
    for (const Odd& odd : table) {
        const Outcome outcome = dapple({"life", "--readings", "-", "--today", "2026-06-01", "--kind",
                                        "fluorescent_tube", "--low", "2.9"},
                                       odd.text);
        EXPECT_EQ(outcome.status, 0) << odd.text << outcome.err;
        std::string answer = unwrapped(outcome.out);
        std::replace(answer.begin(), answer.end(), 'L', 'l');
        std::string said = odd.said;
        std::replace(said.begin(), said.end(), 'L', 'l');
        EXPECT_NE(answer.find(said), std::string::npos) << odd.said << "\n" << outcome.out;
    }
}

}  // namespace dapple::tests
