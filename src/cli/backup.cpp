// dapple backup, dapple restore: the whole record as one file, and back.
#include "record/backup.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/record_place.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string file;
    bool json = false;
};

int say(const Console& console, const record::BackupReport& report, const Options& options,
        const std::string& what) {
    if (options.json)
        return console.print({{"file", report.file}, {"rows", report.rows}, {"digest", report.digest}});
    std::int64_t rows = 0;
    for (const auto& [table, count] : report.rows) rows += count;
    console.out << fmt::format("{}: {} rows, {} readings, compared and the same (BLAKE2b {})\n", what, rows,
                               report.rows.at("readings"), report.digest.substr(0, 16));
    return done;
}

int run_backup(const RecordPlace& place, const Options& options, const Console& console) {
    if (options.file.empty()) return console.refuse({"", "FILE", "nothing", "the name of the file to write"});
    const auto store = open_record(place, true);
    if (!store) return console.refuse(store.error());
    const auto report = record::back_up(**store, options.file);
    if (!report) return say_refused(console, report.error());
    return say(console, *report, options, "backed up to " + options.file);
}

int run_restore(const RecordPlace& place, const Options& options, const Console& console) {
    if (options.file.empty())
        return console.refuse({"", "FILE", "nothing", "a backup made by dapple backup"});
    const auto database = database_of(place);
    if (!database) return console.refuse(database.error());
    record::StoreOptions into;
    into.database = *database;
    const auto report = record::restore(options.file, into);
    if (!report) return say_refused(console, report.error());
    return say(console, *report, options, "restored from " + options.file);
}

}  // namespace

Command backup_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("backup", "The whole record as one file, also while it is in use");
    app->add_option("FILE", options->file,
                    "The file to write: an SQLite database, whatever the record is kept in");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return run_backup(*place, *options, console); }};
}

Command restore_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("restore", "A backup into an empty record, SQLite or PostgreSQL");
    app->add_option("FILE", options->file, "A backup made by dapple backup, of this or an earlier version");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return run_restore(*place, *options, console); }};
}

}  // namespace dapple::cli
