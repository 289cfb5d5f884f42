// dapple fit ENC --readings F: what the readings say of lamps, meshes, leaves and the meter.
#include "inference/fit.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"

namespace dapple::cli {

Command fit_command(CLI::App& program) {
    struct Options {
        std::string enclosure;
        std::string readings;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app =
        program.add_subcommand("fit", "What readings say of lamps, screens, leaves and the meter");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option("--readings", options->readings, "Readings, CSV or JSON");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) {
                const auto enclosure = read_enclosure(options->enclosure, console.in);
                if (!enclosure) return console.refuse(enclosure.error());
                if (options->readings.empty()) {
                    return console.refuse({"", "--readings", "nothing", "a file of readings, CSV or JSON"});
                }
                const auto fit = fit_to(options->readings, *enclosure, console.err);
                if (!fit) return console.refuse(fit.error());
                const auto spots = inference::predict_spots(*fit);
                if (!spots) return console.refuse(spots.error());
                if (options->json) return console.print(inference::to_json(*fit, *spots));
                console.out << inference::to_text(*fit, *spots);
                return done;
            }};
}

}  // namespace dapple::cli
