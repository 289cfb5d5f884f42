// dapple plan: lamps and mounting for an empty enclosure.
#include "advice/plan.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string species;
    std::string size;
    std::string effort;
    bool json = false;
};

// "120x60x60" in cm, as metres.
Expected<scene::Vec3> read_size(const std::string& text) {
    constexpr double least = 20;
    constexpr double most = 1000;
    const auto refused = [&] {
        return refuse(
            {"", "--size-cm", "\"" + text + "\"",
             fmt::format("width x depth x height in cm, like 120x60x60, each {:g} to {:g}", least, most)});
    };
    scene::Vec3 size;
    const char* at = text.data();
    const char* end = text.data() + text.size();
    for (int axis = 0; axis < 3; ++axis) {
        if (axis > 0 && (at == end || (*at != 'x' && *at != 'X'))) return refused();
        if (axis > 0) ++at;
        double cm = 0;
        const auto [next, error] = std::from_chars(at, end, cm);
        if (error != std::errc{} || !(cm >= least && cm <= most)) return refused();
        size[axis] = cm / 100;
        at = next;
    }
    if (at != end) return refused();
    return size;
}

Expected<husbandry::Species> read_species(const std::string& words) {
    const auto refused = [&] {
        return refuse({"", "--species", "\"" + words + "\"", "a species that `dapple species` finds"});
    };
    if (words.find_first_not_of(' ') == std::string::npos) return refused();
    if (const husbandry::Species* listed = husbandry::find_species(words)) return *listed;
    const auto found = husbandry::search_species(words, 1);
    if (found.empty()) return refused();
    return found.front();
}

std::string as_text(const advice::Planning& planning) {
    const husbandry::Species& species = planning.species;
    const std::string common = species.common_names.empty() ? "" : " (" + species.common_names.front() + ")";
    std::string text = wrapped(
        fmt::format(
            "Plans for {}{}, {:g} x {:g} x {:g} cm. Assumed: walls of glass, a floor of soil, an open top. "
            "The lamps are generic and their outputs typical, from memory: measure before an animal moves "
            "in.",
            species.scientific_name, common, 100 * planning.size.x(), 100 * planning.size.y(),
            100 * planning.size.z()),
        96, "");
    const auto in_words = [](const advice::Plan& plan, const std::string& outcome) {
        return fmt::format("{}{} {:.0f} W; about {:.0f} minutes' work.", plan.words, outcome, plan.power_w,
                           plan.effort);
    };
    for (std::size_t i = 0; i < planning.plans.size(); ++i) {
        const std::string number = fmt::format("{:>2}. ", i + 1);
        std::string lines = wrapped(in_words(planning.plans[i], " Everything holds."), 96, "    ");
        text += lines.replace(0, number.size(), number);
    }
    if (!planning.plans.empty()) return text;
    text +=
        "No lamp of the library, at any height, gives this animal all it needs in an enclosure of this "
        "size.\n";
    for (const advice::Plan& plan : planning.nearest)
        text += wrapped("Nearest: " + in_words(plan, ""), 96, "    ");
    return text;
}

}  // namespace

Command plan_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("plan", "Lamps and mounting for an empty enclosure");
    app->add_option("--species", options->species, "The animal, by scientific or common name");
    app->add_option("--size-cm", options->size, "Width x depth x height, like 120x60x60");
    app->add_option(
        "--effort", options->effort,
        "What changes cost, in minutes: {\"format\": \"dapple/effort@1\", \"add_lamp\": 60, ...}");
    app->add_flag("--json", options->json, "Answer in JSON, with each planned document");
    return {app, [options](const Console& console) {
                const auto size = read_size(options->size);
                if (!size) return console.refuse(size.error());
                const auto species = read_species(options->species);
                if (!species) return console.refuse(species.error());
                advice::PlanOptions wanted;
                if (!options->effort.empty()) {
                    const auto effort = read_effort(options->effort);
                    if (!effort) return console.refuse(effort.error());
                    wanted.fix.effort = *effort;
                }
                const auto planning = advice::plan_for(*species, *size, wanted);
                if (!planning) return console.refuse(planning.error());
                if (options->json) return console.print(advice::to_json(*planning));
                console.out << as_text(*planning);
                return done;
            }};
}

}  // namespace dapple::cli
