// dapple check ENC: what each animal can choose, and whether that is what it needs.
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"
#include "husbandry/verdict.h"
#include "inference/fit_judge.h"

namespace dapple::cli {

namespace {

// In the light of the document, or, with readings, in the light fitted to them.
Expected<husbandry::Judgement> judgement_of(const scene::Enclosure& enclosure, const std::string& readings,
                                            std::ostream& err) {
    if (readings.empty()) return husbandry::judge(enclosure);
    const auto fit = fit_to(readings, enclosure, err);
    if (!fit) return tl::unexpected(fit.error());
    return inference::judge_fitted(*fit);
}

}  // namespace

Command check_command(CLI::App& program) {
    struct Options {
        std::string enclosure;
        std::string readings;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("check", "Spots, reach and verdict of an enclosure");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option(
        "--readings", options->readings,
        "Readings, CSV or JSON: judge in the light fitted to them, with intervals and probabilities");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) {
                const auto enclosure = read_enclosure(options->enclosure, console.in);
                if (!enclosure) return console.refuse(enclosure.error());
                const auto judgement = judgement_of(*enclosure, options->readings, console.err);
                if (!judgement) return console.refuse(judgement.error());
                if (options->json) return console.print(husbandry::to_json(*judgement));
                console.out << husbandry::to_text(*judgement);
                return done;
            }};
}

}  // namespace dapple::cli
