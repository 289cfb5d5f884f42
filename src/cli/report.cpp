// dapple report: the printable record, of a record or of documents. dapple shopping: the lamps to buy.
#include "paper/report.h"

#include <chrono>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"
#include "cli/record_place.h"
#include "paper/things.h"

namespace dapple::cli {

namespace {

struct Options {
    std::vector<std::string> documents;
    std::string readings;
    std::string out;
    std::string since;
    std::string paper = "a4";
    std::vector<std::string> sites;
    std::vector<std::string> enclosures;
    bool json = false;
};

Expected<paper::ReportOptions> read(const Options& written) {
    paper::ReportOptions options;
    options.now = record::system_clock()();
    options.sites = written.sites;
    options.enclosures = written.enclosures;
    if (written.out.empty()) return refuse({"", "--out", "nothing", "the name of the PDF to write"});
    const auto paper = paper::paper_named(written.paper, "--paper");
    if (!paper) return tl::unexpected(paper.error());
    options.paper = *paper;
    if (!written.since.empty() && !inference::day_of(written.since))
        return refuse({"", "--since", "\"" + written.since + "\"", "a date as YYYY-MM-DD"});
    options.since = written.since.substr(0, 10);
    return options;
}

Expected<paper::Account> of_documents(const Options& written, const paper::ReportOptions& options,
                                      const Console& console) {
    std::vector<paper::DocumentWithReadings> documents;
    for (const std::string& path : written.documents) {
        auto enclosure = read_enclosure(path, console.in);
        if (!enclosure) return tl::unexpected(enclosure.error());
        std::vector<inference::Reading> readings;
        if (!written.readings.empty()) {
            auto sets = read_readings(written.readings, *enclosure, console.err);
            if (!sets) return tl::unexpected(sets.error());
            readings = std::move(*sets);
        }
        documents.push_back({std::move(*enclosure), std::move(readings)});
    }
    return paper::account_of_documents(documents, options);
}

Expected<paper::Account> of_record(const RecordPlace& place, const paper::ReportOptions& options) {
    const auto store = open_record(place, true);
    if (!store) return tl::unexpected(store.error());
    record::LampLives lives;
    auto account = paper::account_of_record(**store, lives, options);
    if (!account) return tl::unexpected(account.error().problems);
    return std::move(*account);
}

int follow(const RecordPlace& place, const Options& written, const Console& console) {
    const auto options = read(written);
    if (!options) return console.refuse(options.error());
    const auto account =
        written.documents.empty() ? of_record(place, *options) : of_documents(written, *options, console);
    if (!account) return console.refuse(account.error());
    const auto saved = write_file(written.out, paper::to_pdf(*account, options->paper));
    if (!saved) return console.refuse(saved.error());
    std::size_t judged = 0;
    for (const auto& one : account->enclosures) judged += one.judgement ? 1 : 0;
    if (written.json) {
        return console.print(
            {{"file", written.out}, {"enclosures", account->enclosures.size()}, {"judged", judged}});
    }
    console.out << "report of " << account->enclosures.size() << " enclosures in " << written.out << '\n';
    return done;
}

int shop(const RecordPlace& place, const std::string& within, bool json, const Console& console) {
    paper::ShoppingOptions options;
    if (!within.empty()) {
        const std::string allowed = "a whole number of days from 0 to 3650";
        const auto days = read_number(within, "--within-days", allowed);
        if (!days || *days < 0 || *days > 3650 || *days != static_cast<int>(*days))
            return console.refuse({"", "--within-days", "\"" + within + "\"", allowed});
        options.within_days = static_cast<int>(*days);
    }
    const auto store = open_record(place, true);
    if (!store) return console.refuse(store.error());
    const auto sites = paper::sites_or_all(**store, {});
    if (!sites) return say_refused(console, sites.error());
    record::LampLives lives;
    const auto today = std::chrono::floor<std::chrono::days>(record::system_clock()());
    const auto list = paper::lamps_needed(**store, lives, *sites, today, options);
    if (!list) return say_refused(console, list.error());
    if (json) return console.print(paper::to_json(*list));
    console.out << paper::to_text(*list);
    return done;
}

}  // namespace

Command report_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("report", "The printable record, as a PDF");
    app->add_option("ENC", options->documents, "Documents in place of the record; - reads standard input");
    app->add_option("--readings", options->readings, "Readings for the documents, CSV or JSON");
    app->add_option("--out", options->out, "The PDF to write");
    app->add_option("--since", options->since, "Day of the last report (a year ago; documents: all)");
    app->add_option("--paper", options->paper, "a4 or letter");
    app->add_option("--site", options->sites, "Only this site (its id); may be given again");
    app->add_option("--enclosure", options->enclosures, "Only this enclosure (its id); may be given again");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return follow(*place, *options, console); }};
}

Command shopping_command(CLI::App& program) {
    auto within = std::make_shared<std::string>();
    auto json = std::make_shared<bool>(false);
    CLI::App* app = program.add_subcommand("shopping", "The lamps to buy, by the day they are needed");
    app->add_option("--within-days", *within, "Only those needed so soon (365)");
    app->add_flag("--json", *json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return shop(*place, *within, *json, console); }};
}

}  // namespace dapple::cli
