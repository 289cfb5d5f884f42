#include "cli/cli.h"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/version.h"

namespace dapple::cli {

namespace {

std::vector<Command> add_commands(CLI::App& program) {
    return {account_command(program), at_command(program),       backup_command(program),
            restore_command(program), export_command(program),   import_command(program),
            check_command(program),   field_command(program),    fit_command(program),
            fix_command(program),     life_command(program),     next_command(program),
            plan_command(program),    species_command(program),  materials_command(program),
            spectra_command(program), sun_command(program),      demo_command(program),
            serve_command(program),   warmth_command(program),   report_command(program),
            labels_command(program),  calendar_command(program), shopping_command(program)};
}

// "check, did you mean that? also: at, field": the nearest known word first.
std::string known(const std::string& word, const std::vector<std::string>& words) {
    const std::string near = nearest(word, words);
    const std::string all = fmt::format("{}", fmt::join(words, ", "));
    return near.empty() ? all : fmt::format("{} (did you mean {}?)", all, near);
}

std::vector<std::string> names_of(const std::vector<Command>& commands) {
    std::vector<std::string> names;
    for (const Command& command : commands) names.push_back(command.app->get_name());
    return names;
}

std::vector<std::string> options_of(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::Option* option : app.get_options()) {
        for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    }
    return names;
}

// Words that no command takes: unknown options, or one word too many.
Problems strangers(const Command& command) {
    Problems problems;
    for (const std::string& word : command.app->remaining()) {
        const std::string option = word.substr(0, word.find('='));
        problems.push_back({"", "dapple " + command.app->get_name(), "\"" + word + "\"",
                            known(option, options_of(*command.app))});
    }
    return problems;
}

int run_command(std::vector<std::string> arguments, const Console& console) {
    CLI::App program("Dapple: the light an animal can choose in its enclosure.", "dapple");
    program.set_version_flag("--version", version_text());
    program.require_subcommand(0, 1);
    const std::vector<Command> commands = add_commands(program);
    for (const Command& command : commands) command.app->allow_extras();

    if (!arguments.empty() && arguments.front() == "help") {  // `help at` is `at --help`
        arguments.erase(arguments.begin());
        arguments.emplace_back("--help");
    }
    if (!arguments.empty() && !arguments.front().starts_with('-')) {
        const std::vector<std::string> names = names_of(commands);
        if (std::find(names.begin(), names.end(), arguments.front()) == names.end()) {
            return console.refuse(
                {"", "command", "\"" + arguments.front() + "\"", known(arguments.front(), names)});
        }
    }
    std::reverse(arguments.begin(), arguments.end());  // as CLI11 takes them
    try {
        program.parse(arguments);
    } catch (const CLI::ParseError& error) {
        // Help and version come this way too, with status 0.
        if (error.get_exit_code() == 0) return program.exit(error, console.out, console.err);
        return console.refuse({"", "command line", error.what(), "see dapple --help, dapple COMMAND --help"});
    }
    for (const Command& command : commands) {
        if (!command.app->parsed()) continue;
        const Problems problems = strangers(command);
        return problems.empty() ? command.action(console) : console.refuse(problems);
    }
    console.out << program.help();
    return done;
}

}  // namespace

int Console::refuse(const Problems& problems) const {
    err << to_text(problems);
    return bad_input;
}

int Console::print(const nlohmann::json& document) const {
    out << document.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << '\n';
    return done;
}

int run(const std::vector<std::string>& arguments, std::istream& in, std::ostream& out, std::ostream& err) {
    try {
        const int status = run_command(arguments, {in, out, err});
        out.flush();
        return status;
    } catch (const std::exception& fault) {
        err << "A fault of Dapple's own, not of what you gave it: " << fault.what() << '\n';
        return our_fault;
    }
}

}  // namespace dapple::cli
