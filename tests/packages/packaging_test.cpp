// What is installed beside the program says of it only what is so: each command line in it is one the program takes, and
// manual and completion know every command and option.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <memory>

#include "packages/files.h"
#include "packages/program.h"

namespace dapple::tests {

namespace {

// Words after each `dapple` of a text up to the end of its command, and what is wrong with them.
std::vector<std::string> faults_of_lines(const std::string& text) {
    static const std::regex command_line(R"((?:^|[\s='"]|/usr/bin/)dapple ([a-z]+)((?: +[^|>&\s]+)*))");
    static const std::regex option(R"((?:^|[\s"])(--[a-z0-9-]+))");
    std::vector<std::string> faults;
    for (const std::string& line : lines_of(text)) {
        std::smatch found;
        // To ninja, dapple is a thing to build.
        if (line.find("ninja ") != std::string::npos || !std::regex_search(line, found, command_line))
            continue;
        const auto command = commands().find(found[1]);
        if (command == commands().end()) {
            faults.push_back("no command in: " + line);
            continue;
        }
        const std::string words = found[2];
        for (std::sregex_iterator it(words.begin(), words.end(), option), end; it != end; ++it) {
            if (!command->second.contains((*it)[1]))
                faults.push_back((*it)[1].str() + " is no option in: " + line);
        }
    }
    return faults;
}

std::string output_of(const std::string& command) {
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    std::string text;
    std::array<char, 4096> buffer{};
    while (pipe && std::fgets(buffer.data(), static_cast<int>(buffer.size()), pipe.get()) != nullptr)
        text += buffer.data();
    return text;
}

// Fenced blocks of shell of a page.
std::string fenced(const std::string& page) {
    std::string text;
    bool shell = false;
    for (const std::string& line : lines_of(page)) {
        if (line.starts_with("```")) {
            shell = !shell && (line == "```sh" || line == "```ini");
        } else if (shell) {
            text += line + "\n";
        }
    }
    return text;
}

std::string completed(const std::string& words, int at) {
    return output_of("bash -c 'source " + (root / "packaging/dapple.bash").string() +
                     "; COMP_WORDS=(" DAPPLE_PROGRAM " " + words + "); COMP_CWORD=" + std::to_string(at) +
                     "; _dapple; [ ${#COMPREPLY[@]} = 0 ] || printf \"%s\\n\" \"${COMPREPLY[@]}\"'");
}

}  // namespace

TEST(CommandLines, of_service_menu_container_and_manual_are_taken_by_the_program) {
    const std::string options = read(root / "packaging/dapple.default");
    const auto begin = options.find("DAPPLE_OPTIONS=\"");
    ASSERT_NE(begin, std::string::npos);
    std::string serve = "dapple serve " + options.substr(begin + 16);
    for (const std::string& fault : faults_of_lines(serve)) ADD_FAILURE() << fault;
    for (const char* file : {"packaging/dapple.service", "packaging/dapple.desktop",
                             "packaging/Containerfile", "packaging/dapple.default"}) {
        for (const std::string& fault : faults_of_lines(read(root / file)))
            ADD_FAILURE() << file << ": " << fault;
    }
    std::string manual = read(root / "packaging/manual.in");
    manual = std::regex_replace(manual, std::regex(R"(\\-)"), "-");
    const auto examples = manual.find(".SH EXAMPLES");
    ASSERT_NE(examples, std::string::npos);
    for (const std::string& fault : faults_of_lines(manual.substr(examples))) ADD_FAILURE() << fault;
}

TEST(CommandLines, of_the_pages_are_taken_by_the_program) {
    for (const char* file : {"README.md", "docs/operating.md", "docs/record.md", "docs/contributing.md"}) {
        std::string text = fenced(read(root / file));
        text = std::regex_replace(text, std::regex(R"(\./run ([a-z]))"), "dapple $1");
        text = std::regex_replace(text, std::regex("DAPPLE_OPTIONS=\""), "dapple serve ");
        for (const std::string& fault : faults_of_lines(text)) ADD_FAILURE() << file << ": " << fault;
    }
}

TEST(ACommandLineChecker, finds_what_the_program_does_not_take) {
    EXPECT_TRUE(faults_of_lines("dapple check pen.json --json").empty());
    EXPECT_EQ(faults_of_lines("sudo dapple chekc pen.json").size(), 1U);
    EXPECT_EQ(faults_of_lines("ExecStart=/usr/bin/dapple serve --lisen 127.0.0.1:8460").size(), 1U);
}

TEST(TheManual, knows_every_command_and_option) {
    std::string manual = output_of("sh " + (root / "packaging/manual.sh").string() + " " DAPPLE_PROGRAM " " +
                                   (root / "packaging/manual.in").string());
    manual = std::regex_replace(manual, std::regex(R"(\\-)"), "-");
    EXPECT_EQ(manual.find("@COMMANDS@"), std::string::npos);
    for (const auto& [command, options] : commands()) {
        const auto begin = manual.find(".SS dapple " + command + "\n");
        ASSERT_NE(begin, std::string::npos) << command;
        const std::string page = manual.substr(begin, manual.find("\n.S", begin + 1) - begin);
        for (const std::string& option : options) {
            if (option == "--help") continue;
            EXPECT_NE(page.find(".B " + option), std::string::npos) << command << " " << option;
        }
    }
}

TEST(TheManual, has_no_line_that_troff_would_take_for_its_own) {
    static const std::set<std::string> ours = {".TH", ".SH", ".SS", ".TP", ".B",  ".I",
                                               ".BR", ".IR", ".RI", ".PP", ".EX", ".EE"};
    const std::string manual = output_of("sh " + (root / "packaging/manual.sh").string() +
                                         " " DAPPLE_PROGRAM " " + (root / "packaging/manual.in").string());
    EXPECT_GT(manual.size(), 5000U);
    for (const std::string& line : lines_of(manual)) {
        if (line.starts_with(".") || line.starts_with("'")) {
            EXPECT_TRUE(ours.contains(line.substr(0, line.find(' ')))) << line;
        }
    }
}

TEST(Completion, offers_every_command_and_option) {
    const std::string all = "\n" + completed("\"\"", 1);
    for (const auto& [command, options] : commands()) {
        EXPECT_NE(all.find("\n" + command + "\n"), std::string::npos) << command;
        const std::string offered = "\n" + completed(command + " --", 2);
        for (const std::string& option : options) {
            EXPECT_NE(offered.find("\n" + option + "\n"), std::string::npos) << command << " " << option;
        }
    }
}

TEST(Completion, narrows_to_what_was_begun_and_leaves_files_to_the_shell) {
    EXPECT_EQ(completed("che", 1), "check\n");
    EXPECT_EQ(completed("backup --databa", 2), "--database\n");
    EXPECT_EQ(completed("check exam", 2), "");
}

TEST(TheProgram, says_version_commit_date_and_compiler) {
    std::istringstream in;
    std::ostringstream out;
    std::ostringstream err;
    EXPECT_EQ(cli::run({"--version"}, in, out, err), 0);
    static const std::regex said(
        R"(dapple \d+\.\d+\.\d+\nsource ([0-9a-f]{7,40} )?of \d{4}-\d\d-\d\d\nbuilt by \S+ [\d.]+, \w+, \w+\n)");
    EXPECT_TRUE(std::regex_match(out.str(), said)) << out.str();
}

TEST(Versions, agree_wherever_they_stand) {
    std::smatch found;
    const std::string lists = read(root / "CMakeLists.txt");
    ASSERT_TRUE(std::regex_search(lists, found, std::regex(R"(project\(dapple VERSION (\S+))")));
    const std::string version = found[1];
    EXPECT_NE(read(root / "CHANGELOG.md").find("\n## " + version), std::string::npos);
    EXPECT_NE(read(root / "packaging/dapple.metainfo.xml").find("<release version=\"" + version + "\""),
              std::string::npos);
    EXPECT_NE(read(root / "web/package.json").find("\"version\": \"" + version + "\""), std::string::npos);
    EXPECT_NE(read(root / "packaging/dependencies.spdx.json").find("\"versionInfo\":\"" + version + "\""),
              std::string::npos);
}

}  // namespace dapple::tests
