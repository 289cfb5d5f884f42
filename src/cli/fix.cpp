// dapple fix ENC: changes that put an enclosure right, cheapest first.
#include "advice/fix.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"
#include "cli/readings_input.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string enclosure;
    std::string readings;
    std::string effort;
    bool json = false;
};

std::string outcome(const advice::Fix& fix) {
    const bool holds = fix.remaining.empty() && fix.worsened.empty();
    if (fix.after.animals.empty() || !fix.after.animals.front().verdict.overall.probability) {
        return holds ? "Everything holds then. " : "";
    }
    return fmt::format("{} {:.0f} %. ",
                       holds ? "Everything holds then, with a probability of"
                             : "That everything holds then has a probability of",
                       100 * fix.probability);
}

std::string as_text(const std::vector<advice::Fix>& fixes) {
    std::string text;
    for (std::size_t i = 0; i < fixes.size(); ++i) {
        const advice::Fix& fix = fixes[i];
        const std::string number = fmt::format("{:>2}. ", i + 1);
        const std::string words = fmt::format("{}{} {}About {:.0f} minutes' work.", fix.words,
                                              fix.words.ends_with('.') ? "" : ".", outcome(fix), fix.effort);
        std::string lines = wrapped(words, 96, "    ");
        text += lines.replace(0, number.size(), number);
    }
    return text;
}

// Nothing to offer has several reasons, and a keeper must not take one for another.
std::string nothing_found(const husbandry::Judgement& before) {
    if (before.animals.empty()) return "No animal is named, so there is nothing to judge.\n";
    for (const auto& animal : before.animals) {
        if (animal.verdict.overall.holds != false) continue;
        return "No change that was tried, nor two at once, makes this better. `dapple check` says what is "
               "wrong.\n";
    }
    return "Nothing that can be judged is wrong; no change is needed.\n";
}

Expected<advice::FixOptions> options_of(const Options& given) {
    advice::FixOptions options;
    if (given.effort.empty()) return options;
    const auto effort = read_effort(given.effort);
    if (!effort) return tl::unexpected(effort.error());
    options.effort = *effort;
    return options;
}

Expected<advice::Search> fixes_for(const Options& given, const Console& console) {
    const auto options = options_of(given);
    if (!options) return tl::unexpected(options.error());
    const auto enclosure = read_enclosure(given.enclosure, console.in);
    if (!enclosure) return tl::unexpected(enclosure.error());
    if (given.readings.empty()) return advice::search_fixes(*enclosure, *options);
    const auto fit = fit_to(given.readings, *enclosure, console.err);
    if (!fit) return tl::unexpected(fit.error());
    return advice::search_fixes(*fit, *options);
}

}  // namespace

Command fix_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("fix", "Changes that put an enclosure right, cheapest first");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option(
        "--readings", options->readings,
        "Readings, CSV or JSON: search in the light fitted to them, with intervals and probabilities");
    app->add_option(
        "--effort", options->effort,
        "What changes cost, in minutes: {\"format\": \"dapple/effort@1\", \"move_lamp\": 20, ...}");
    app->add_flag("--json", options->json, "Answer in JSON, with each changed document");
    return {app, [options](const Console& console) {
                const auto found = fixes_for(*options, console);
                if (!found) return console.refuse(found.error());
                if (options->json) return console.print(advice::to_json(*found));
                console.out << (found->fixes.empty() ? nothing_found(found->before) : as_text(found->fixes));
                return done;
            }};
}

}  // namespace dapple::cli
