// dapple calendar: surveys, lamps, calibrations and tasks as iCalendar.
#include "paper/calendar.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/record_place.h"
#include "paper/things.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string out;
    std::string public_url;
    std::string remind_hour;
    std::vector<std::string> sites;
    bool json = false;
};

int follow(const RecordPlace& place, const Options& written, const Console& console) {
    paper::CalendarOptions options;
    options.now = record::system_clock()();
    options.public_url = written.public_url;
    if (!written.remind_hour.empty()) {
        const std::string allowed = "a whole hour from 0 to 23";
        const auto hour = read_number(written.remind_hour, "--remind-hour", allowed);
        if (!hour || *hour < 0 || *hour > 23 || *hour != static_cast<int>(*hour))
            return console.refuse({"", "--remind-hour", "\"" + written.remind_hour + "\"", allowed});
        options.remind_hour = static_cast<int>(*hour);
    }
    if (written.json && written.out.empty())
        return console.refuse({"", "--out", "nothing", "the name of the calendar to write, with --json"});
    const auto store = open_record(place, true);
    if (!store) return console.refuse(store.error());
    const auto sites = paper::sites_or_all(**store, written.sites);
    if (!sites) return say_refused(console, sites.error());
    record::LampLives lives;
    const auto text = paper::calendar(**store, lives, *sites, options);
    if (!text) return say_refused(console, text.error());
    if (written.out.empty()) {
        console.out << *text;
        return done;
    }
    const auto saved = write_file(written.out, *text);
    if (!saved) return console.refuse(saved.error());
    if (written.json) return console.print({{"file", written.out}});
    console.out << "calendar in " << written.out << '\n';
    return done;
}

}  // namespace

Command calendar_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("calendar", "What is due, as a calendar (iCalendar)");
    app->add_option("--out", options->out, "The file to write; without it, standard output");
    app->add_option("--public-url", options->public_url, "Where the application is found: events link to it");
    app->add_option("--remind-hour", options->remind_hour, "An alarm at this hour of the day, 0 to 23");
    app->add_option("--site", options->sites, "Only this site (its id); may be given again");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return follow(*place, *options, console); }};
}

}  // namespace dapple::cli
