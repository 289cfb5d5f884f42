// dapple import: readings from a table, or a collection from a zip; first what would happen, then, with --yes, the deed.
#include <fmt/format.h>

#include <fstream>
#include <istream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/record_place.h"
#include "record/imported.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string file;
    std::string site;
    bool yes = false;
    bool json = false;
};

Expected<std::string> read_bytes(const std::string& path, std::istream& in) {
    if (path.empty())
        return refuse(
            {"", "FILE", "nothing", "a table of readings, a zip of dapple export, or - for standard input"});
    if (path == "-") return std::string(std::istreambuf_iterator<char>(in), {});
    std::ifstream file(path, std::ios::binary);
    std::string bytes(std::istreambuf_iterator<char>(file), {});
    if (!file.is_open() || file.bad())
        return refuse(
            {path, "", "no file that can be read", "a table of readings, or a zip of dapple export"});
    return bytes;
}

// The site readings go to: the one named, or the only one there is.
Expected<std::string> site_of(const record::Store& store, const std::string& named) {
    const auto sites = store.list({.kind = "site"});
    if (!sites) return tl::unexpected(sites.error().problems);
    std::vector<std::string> ids;
    for (const record::Thing& site : sites->things) {
        if (site.id == named || site.fields.value("name", "") == named) return site.id;
        ids.push_back(fmt::format("{} ({})", site.id, site.fields.value("name", "")));
    }
    if (named.empty() && sites->things.size() == 1) return sites->things.front().id;
    const std::string allowed =
        ids.empty() ? "a record with a site: import a collection first, or make one in the web application"
                    : fmt::format("one of {}", fmt::join(ids, ", "));
    return refuse({"", "--site", named.empty() ? "nothing" : "\"" + named + "\"", allowed});
}

record::Result<record::ImportPreview> preview_of(const record::Store& store, const std::string& bytes,
                                                 const Options& options) {
    if (bytes.starts_with("PK")) return record::preview_zip(store, bytes, options.file);
    const auto site = site_of(store, options.site);
    if (!site) return record::refuse_as(record::Trouble::invalid, site.error());
    return record::preview_readings(store, *site, bytes, options.file);
}

int follow(const RecordPlace& place, const Options& options, const Console& console) {
    const auto bytes = read_bytes(options.file, console.in);
    if (!bytes) return console.refuse(bytes.error());
    const auto store = open_record(place, false);
    if (!store) return console.refuse(store.error());
    const auto preview = preview_of(**store, *bytes, options);
    if (!preview) return say_refused(console, preview.error());
    std::int64_t added = 0;
    if (options.yes && preview->faults.empty()) {
        const auto applied = record::apply(**store, {}, *preview);
        if (!applied) return say_refused(console, applied.error());
        added = *applied;
    }
    if (options.json) {
        nlohmann::json answer = to_json(*preview);
        answer["added"] = added;
        console.print(answer);
        return preview->faults.empty() ? done : bad_input;
    }
    if (!preview->faults.empty()) {
        console.err << to_text(*preview);
        return bad_input;
    }
    console.out << to_text(*preview);
    console.out << (options.yes ? fmt::format("added {}\n", added)
                                : std::string("nothing was changed; with --yes it is done\n"));
    return done;
}

}  // namespace

Command import_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand(
        "import", "Readings from a table, or a collection from a zip of dapple export");
    app->add_option("FILE", options->file,
                    "CSV or JSON with date, enclosure, spot, value; or a zip; - reads standard input");
    app->add_option("--site", options->site,
                    "Where the readings' enclosures are (id or name), if there are several sites");
    app->add_flag("--yes", options->yes, "Do it; without this it is only said what would happen");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return follow(*place, *options, console); }};
}

}  // namespace dapple::cli
