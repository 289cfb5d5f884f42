// dapple labels: QR codes for enclosures, to print and cut.
#include "paper/labels.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/record_place.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string out;
    std::string public_url;
    std::string rows;
    std::string columns;
    std::string paper = "a4";
    std::vector<std::string> sites;
    std::vector<std::string> enclosures;
    bool json = false;
};

Expected<int> whole(const std::string& text, const std::string& option, int otherwise, int most) {
    if (text.empty()) return otherwise;
    const std::string allowed = "a whole number from 1 to " + std::to_string(most);
    const auto number = read_number(text, option, allowed);
    if (!number || *number < 1 || *number > most || *number != static_cast<int>(*number))
        return refuse({"", option, "\"" + text + "\"", allowed});
    return static_cast<int>(*number);
}

int follow(const RecordPlace& place, const Options& written, const Console& console) {
    paper::LabelOptions options;
    options.now = record::system_clock()();
    options.public_url = written.public_url;
    options.sites = written.sites;
    options.enclosures = written.enclosures;
    if (written.out.empty()) return console.refuse({"", "--out", "nothing", "the name of the PDF to write"});
    const auto rows = whole(written.rows, "--rows", options.rows, 30);
    const auto columns = whole(written.columns, "--columns", options.columns, 12);
    const auto paper = paper::paper_named(written.paper, "--paper");
    if (!rows) return console.refuse(rows.error());
    if (!columns) return console.refuse(columns.error());
    if (!paper) return console.refuse(paper.error());
    options.rows = *rows;
    options.columns = *columns;
    options.paper = *paper;

    const auto store = open_record(place, true);
    if (!store) return console.refuse(store.error());
    const auto labels = paper::labels_of(**store, options);
    if (!labels) return say_refused(console, labels.error());
    const auto pdf = paper::labels_pdf(*labels, options);
    if (!pdf) return console.refuse(pdf.error());
    const auto saved = write_file(written.out, *pdf);
    if (!saved) return console.refuse(saved.error());
    if (written.json) {
        nlohmann::json list = nlohmann::json::array();
        for (const paper::Label& label : *labels)
            list.push_back({{"id", label.id}, {"name", label.name}, {"link", label.link}});
        return console.print({{"file", written.out}, {"labels", list}});
    }
    console.out << labels->size() << " labels in " << written.out << '\n';
    return done;
}

}  // namespace

Command labels_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("labels", "QR labels for enclosures, as a PDF to print and cut");
    app->add_option("--public-url", options->public_url, "Where phones find the application");
    app->add_option("--out", options->out, "The PDF to write");
    app->add_option("--rows", options->rows, "Labels below one another on a sheet (7)");
    app->add_option("--columns", options->columns, "Labels beside one another (3)");
    app->add_option("--paper", options->paper, "a4 or letter");
    app->add_option("--site", options->sites, "Only this site (its id); may be given again");
    app->add_option("--enclosure", options->enclosures, "Only this enclosure (its id); may be given again");
    app->add_flag("--json", options->json, "Answer in JSON");
    auto place = add_record_options(*app);
    return {app, [=](const Console& console) { return follow(*place, *options, console); }};
}

}  // namespace dapple::cli
