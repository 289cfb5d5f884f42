// dapple export: a collection as a zip that a person can read without us.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/record_place.h"
#include "record/exported.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string file;
    std::vector<std::string> sites;
    bool json = false;
};

int follow(const RecordPlace& place, const Options& options, const Console& console) {
    if (options.file.empty()) return console.refuse({"", "FILE", "nothing", "the name of the zip to write"});
    const auto store = open_record(place, true);
    if (!store) return console.refuse(store.error());
    const auto report = record::export_zip(**store, options.file, options.sites);
    if (!report) return say_refused(console, report.error());
    if (options.json) return console.print({{"file", options.file}, {"written", report->written}});
    std::size_t documents = 0;
    for (const auto& [name, lines] : report->written) documents += name.starts_with("enclosures/") ? 1 : 0;
    console.out << fmt::format("exported to {}: {} enclosures, {} readings\n", options.file, documents,
                               report->written.at("readings.csv"));
    return done;
}

}  // namespace

Command export_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("export", "A collection as one zip of documents and tables");
    app->add_option("FILE", options->file, "The zip to write");
    app->add_option("--site", options->sites, "Only this site (its id); may be given again");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return follow(*place, *options, console); }};
}

}  // namespace dapple::cli
