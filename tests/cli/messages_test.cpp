// Exit statuses, and what a person is told.
#include <gtest/gtest.h>

#include "cli/console.h"

namespace dapple::tests {

namespace {

// Refused as input, with a message that holds all the words and nothing on standard output.
void expect_refused(const Outcome& outcome, const std::vector<std::string>& words) {
    EXPECT_EQ(outcome.status, 2);
    EXPECT_EQ(outcome.out, "");
    for (const std::string& word : words) EXPECT_NE(outcome.err.find(word), std::string::npos) << outcome.err;
}

}  // namespace

TEST(Program, says_its_version_and_its_commands) {
    const Outcome version = dapple({"--version"});
    EXPECT_EQ(version.status, 0);
    EXPECT_EQ(version.out.rfind("dapple ", 0), 0U) << version.out;
    for (const auto& line : {std::vector<std::string>{"--help"}, {"help"}, {}}) {
        const Outcome help = dapple(line);
        EXPECT_EQ(help.status, 0);
        for (const char* command :
             {"at", "check", "field", "fix", "species", "materials", "spectra", "demo", "serve", "warmth"}) {
            EXPECT_NE(help.out.find(std::string("  ") + command + " "), std::string::npos) << command;
        }
    }
}

TEST(Program, every_command_explains_itself) {
    for (const char* command :
         {"at", "check", "field", "fix", "species", "materials", "spectra", "demo", "serve", "warmth"}) {
        const Outcome help = dapple({command, "--help"});
        EXPECT_EQ(help.status, 0);
        EXPECT_NE(help.out.find(command), std::string::npos);
        EXPECT_EQ(dapple({"help", command}).out, help.out);
    }
}

TEST(Program, names_the_nearest_command_for_an_unknown_one) {
    expect_refused(dapple({"chek", "pen.json"}), {"found \"chek\"", "did you mean check?"});
}

TEST(Program, names_the_nearest_option_for_an_unknown_one) {
    expect_refused(dapple({"check", "-", "--jsn"}, small_pen),
                   {"dapple check", "\"--jsn\"", "did you mean --json?"});
}

TEST(Program, names_an_option_that_lacks_its_value) {
    expect_refused(dapple({"at", "-", "--point"}, small_pen), {"--point"});
}

TEST(Documents, that_are_not_there_are_named) {
    expect_refused(dapple({"check", "/nowhere/pen.json"}), {"/nowhere/pen.json"});
    expect_refused(dapple({"check"}), {"ENC", "standard input"});
}

TEST(Documents, with_faults_are_refused_with_the_place_of_every_fault) {
    std::string faulty = small_pen;
    faulty.replace(faulty.find("\"tube\""), 6, "\"tub\"");
    faulty.replace(faulty.find("\"furniture\""), 11, "\"furnitur\"");
    expect_refused(dapple({"check", "-"}, faulty),
                   {"standard input at /lamps/0/kind: found \"tub\"; allowed: ", "/furnitur", "furniture"});
}

TEST(Documents, that_are_no_json_are_refused) {
    expect_refused(dapple({"check", "-"}, "size_cm = 3"), {"standard input"});
    expect_refused(dapple({"fix", "-"}, ""), {"standard input"});
}

TEST(Points, outside_the_box_are_refused_with_the_box) {
    for (const char* point : {"61,20,20", "30,-1,20", "30,20,50.1"}) {
        expect_refused(dapple({"at", "-", "--point", point}, small_pen),
                       {"--point", point, "x 0 to 60, y 0 to 40, z 0 to 50"});
    }
}

TEST(Points, that_are_no_points_are_refused) {
    for (const char* point : {"1,2", "1,2,3,4", "a,b,c", "nan,1,1", "inf,1,1", "1,,2", "1;2;3"}) {
        expect_refused(dapple({"at", "-", "--point", point}, small_pen), {"--point", point});
    }
    expect_refused(dapple({"at", "-"}, small_pen), {"--point", "found nothing"});
}

TEST(Options, out_of_range_are_refused_with_the_range) {
    expect_refused(dapple({"at", "-", "--point", "1,1,1", "--bounces", "-1"}, small_pen),
                   {"--bounces", "0 to 1000"});
    expect_refused(dapple({"at", "-", "--point", "1,1,1", "--bounces", "1.5"}, small_pen),
                   {"--bounces", "1.5"});
    expect_refused(dapple({"at", "-", "--point", "1,1,1", "--facing", "down"}, small_pen), {"down", "aimed"});
    expect_refused(dapple({"at", "-", "--point", "1,1,1", "--facing", "0,0,0"}, small_pen), {"0,0,0"});
    const Folder folder;
    const std::string out = folder.file("f.csv");
    expect_refused(dapple({"field", "-", "--out", out}, small_pen), {"--step-cm", "found nothing"});
    expect_refused(dapple({"field", "-", "--step-cm", "0", "--out", out}, small_pen), {"--step-cm"});
    expect_refused(dapple({"field", "-", "--step-cm", "0.01", "--out", out}, small_pen),
                   {"--step-cm", "at least"});
    expect_refused(dapple({"field", "-", "--step-cm", "10"}, small_pen), {"--out", ".vti"});
    expect_refused(dapple({"field", "-", "--step-cm", "10", "--out", "f.txt"}, small_pen), {"--out", ".vti"});
    expect_refused(dapple({"field", "-", "--step-cm", "10", "--out", out, "--quantity", "uv"}, small_pen),
                   {"--quantity", "uvi"});
    expect_refused(dapple({"field", "-", "--step-cm", "10", "--out", out, "--height-cm", "51"}, small_pen),
                   {"--height-cm", "0 to 50"});
    expect_refused(dapple({"field", "-", "--step-cm", "10", "--out", folder.file("no/f.csv")}, small_pen),
                   {"no/f.csv", "folder"});
}

TEST(Serving, is_refused_on_a_port_that_is_none) {
    expect_refused(dapple({"serve", "--listen", "127.0.0.1:70000"}), {"--listen", "65535"});
    expect_refused(dapple({"demo", "--listen", "127.0.0.1:http"}), {"--listen"});
}

}  // namespace dapple::tests
