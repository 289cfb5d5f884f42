// dapple check ENC: what each animal can choose, and whether that is what it needs.
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "husbandry/verdict.h"

namespace dapple::cli {

Command check_command(CLI::App& program) {
    struct Options {
        std::string enclosure;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("check", "Spots, reach and verdict of an enclosure");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) {
                const auto enclosure = read_enclosure(options->enclosure, console.in);
                if (!enclosure) return console.refuse(enclosure.error());
                const auto judgement = husbandry::judge(*enclosure);
                if (!judgement) return console.refuse(judgement.error());
                if (options->json) return console.print(husbandry::to_json(*judgement));
                console.out << husbandry::to_text(*judgement);
                return done;
            }};
}

}  // namespace dapple::cli
