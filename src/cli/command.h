// What every command is made of: it adds itself to the program and, when it was asked for, returns an exit status.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <iosfwd>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::cli {

inline constexpr int done = 0;
inline constexpr int our_fault = 1;
inline constexpr int bad_input = 2;

// Where a command reads and writes.
struct Console {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;

    // Says what is wrong; returns bad_input.
    int refuse(const Problems& problems) const;
    int refuse(Problem problem) const { return refuse(Problems{std::move(problem)}); }

    int print(const nlohmann::json& document) const;  // returns done
};

using Action = std::function<int(const Console&)>;

// A command has added its options to `app` and says what to do once they are parsed.
struct Command {
    CLI::App* app;
    Action action;
};

Command account_command(CLI::App& program);
Command at_command(CLI::App& program);
Command backup_command(CLI::App& program);
Command calendar_command(CLI::App& program);
Command check_command(CLI::App& program);
Command export_command(CLI::App& program);
Command field_command(CLI::App& program);
Command fit_command(CLI::App& program);
Command fix_command(CLI::App& program);
Command import_command(CLI::App& program);
Command labels_command(CLI::App& program);
Command life_command(CLI::App& program);
Command next_command(CLI::App& program);
Command plan_command(CLI::App& program);
Command report_command(CLI::App& program);
Command restore_command(CLI::App& program);
Command shopping_command(CLI::App& program);
Command species_command(CLI::App& program);
Command materials_command(CLI::App& program);
Command spectra_command(CLI::App& program);
Command sun_command(CLI::App& program);
Command demo_command(CLI::App& program);
Command serve_command(CLI::App& program);
Command warmth_command(CLI::App& program);

}  // namespace dapple::cli
