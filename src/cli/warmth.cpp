// dapple warmth ENC: how warm the basking places and the air are, with the error one must reckon with.
#include "warmth/warmth.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"
#include "inference/warmth_fit.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string enclosure;
    std::string readings;
    std::string room_c;
    bool json = false;
};

Expected<warmth::WarmthOptions> warmth_options(const Options& options) {
    warmth::WarmthOptions result;
    if (options.room_c.empty()) return result;
    const std::string allowed = "the room's temperature, from -50 to 60 degrees Celsius";
    const auto room = read_number(options.room_c, "--room-c", allowed);
    if (!room) return tl::unexpected(room.error());
    if (*room < -50 || *room > 60) return refuse({"", "--room-c", options.room_c, allowed});
    result.room_c = *room;
    return result;
}

int answer(const Options& options, const Console& console) {
    const auto enclosure = read_enclosure(options.enclosure, console.in);
    if (!enclosure) return console.refuse(enclosure.error());
    const auto how = warmth_options(options);
    if (!how) return console.refuse(how.error());
    const light::Field field(*enclosure);
    if (options.readings.empty()) {
        const warmth::Report report = warmth::report(field, *how);
        if (options.json) return console.print(warmth::to_json(report));
        console.out << warmth::to_text(report);
        return done;
    }
    const auto readings = read_readings(options.readings, *enclosure, console.err);
    if (!readings) return console.refuse(readings.error());
    inference::WarmthFitOptions fitting;
    fitting.warmth = *how;
    const inference::WarmthFit fit = inference::fit_warmth(field, *readings, fitting);
    if (options.json) return console.print(inference::to_json(fit));
    console.out << inference::to_text(fit);
    return done;
}

}  // namespace

Command warmth_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand(
        "warmth", "Basking-surface and air temperatures, with their error; never a thermostat");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option(
        "--room-c", options->room_c,
        "The room's temperature, degrees Celsius, by day and night; else the document's, else 22");
    app->add_option("--readings", options->readings,
                    "Readings, CSV or JSON: fit the model to the temperatures among them");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) { return answer(*options, console); }};
}

}  // namespace dapple::cli
