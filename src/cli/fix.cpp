// dapple fix ENC: changes that put an enclosure right, cheapest first.
#include "advice/fix.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"
#include "husbandry/verdict.h"

namespace dapple::cli {

namespace {

bool anything_fails(const husbandry::Judgement& judgement) {
    for (const auto& animal : judgement.animals) {
        if (animal.verdict.overall.holds == false) return true;
    }
    return false;
}

bool everything_holds(const husbandry::Judgement& judgement) {
    return !anything_fails(judgement);
}

std::string as_text(const std::vector<advice::Fix>& fixes) {
    std::string text;
    for (std::size_t i = 0; i < fixes.size(); ++i) {
        const advice::Fix& fix = fixes[i];
        const std::string outcome = everything_holds(fix.after) ? "Everything holds then. " : "";
        const std::string number = fmt::format("{:>2}. ", i + 1);
        const std::string words = fmt::format("{}{} {}About {:.0f} minutes' work.", fix.words,
                                              fix.words.ends_with('.') ? "" : ".", outcome, fix.effort);
        std::string lines = wrapped(words, 96, "    ");
        text += lines.replace(0, number.size(), number);
    }
    return text;
}

// Nothing to offer has two reasons, and a keeper must not take one for the other.
int say_nothing_found(const scene::Enclosure& enclosure, const Console& console) {
    const auto judgement = husbandry::judge(enclosure);
    if (!judgement) return console.refuse(judgement.error());
    console.out
        << (judgement->animals.empty() ? "No animal is named, so there is nothing to judge.\n"
            : anything_fails(*judgement)
                ? "No single change that was tried makes this better. `dapple check` says what is wrong.\n"
                : "Nothing that can be judged is wrong; no change is needed.\n");
    return done;
}

}  // namespace

Command fix_command(CLI::App& program) {
    struct Options {
        std::string enclosure;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("fix", "Changes that put an enclosure right, cheapest first");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_flag("--json", options->json, "Answer in JSON, with each changed document");
    return {app, [options](const Console& console) {
                const auto enclosure = read_enclosure(options->enclosure, console.in);
                if (!enclosure) return console.refuse(enclosure.error());
                const auto fixes = advice::find_fixes(*enclosure);
                if (!fixes) return console.refuse(fixes.error());
                if (options->json) return console.print(advice::to_json(*fixes));
                if (fixes->empty()) return say_nothing_found(*enclosure, console);
                console.out << as_text(*fixes);
                return done;
            }};
}

}  // namespace dapple::cli
