// Which record a command works on: --database URL, --data DIR, or the user's own.
#pragma once

#include <CLI/CLI.hpp>
#include <memory>
#include <string>

#include "cli/command.h"
#include "record/store.h"

namespace dapple::cli {

struct RecordPlace {
    std::string data;      // a folder; the record is DIR/record.sqlite
    std::string database;  // postgresql://..., or an SQLite file
};

std::shared_ptr<RecordPlace> add_record_options(CLI::App& app);

// Without either option: $XDG_DATA_HOME/dapple, else ~/.local/share/dapple. The folder is made if it is not there.
Expected<std::string> database_of(const RecordPlace& place);

// Opens it, or says why not; `must_exist`: a new SQLite file is not made.
Expected<std::unique_ptr<record::Store>> open_record(const RecordPlace& place, bool must_exist);

// Says what is wrong; returns bad_input.
int say_refused(const Console& console, const record::Refusal& refusal);

}  // namespace dapple::cli
