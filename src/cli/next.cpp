// dapple next ENC [--readings F]: where to measure next, and what it would settle.
#include "inference/next.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"

namespace dapple::cli {

Command next_command(CLI::App& program) {
    struct Options {
        std::string enclosure;
        std::string readings;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("next", "Where to measure next, and what it would settle");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option("--readings", options->readings, "Readings so far, CSV or JSON");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) {
                const auto enclosure = read_enclosure(options->enclosure, console.in);
                if (!enclosure) return console.refuse(enclosure.error());
                const auto fit = options->readings.empty()
                                     ? Expected<inference::Fit>(inference::fit(*enclosure, {}))
                                     : fit_to(options->readings, *enclosure, console.err);
                if (!fit) return console.refuse(fit.error());
                const auto next = inference::next_readings(*fit);
                if (!next) return console.refuse(next.error());
                const std::vector<std::string> notes = inference::notes(*fit);
                if (options->json) {
                    nlohmann::json answer = inference::to_json(*next);
                    answer["notes"] = notes;
                    return console.print(answer);
                }
                console.out << inference::to_text(*next);
                for (const std::string& note : notes) console.out << wrapped(note, 96, "");
                return done;
            }};
}

}  // namespace dapple::cli
