// dapple species [WORDS]: what an animal wants, with the source of every value.
#include "husbandry/species.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"

namespace dapple::cli {

namespace {

using husbandry::Range;
using husbandry::Species;

std::string range_text(const std::optional<Range>& range) {
    return range ? fmt::format("{:g} to {:g} degC", range->first, range->second) : "unknown";
}

std::string zone_text(const Species& species) {
    if (species.zones.empty()) return "unknown";
    std::string zones = fmt::format("{}", fmt::join(species.zones, "-"));
    const auto band = husbandry::band_of(species.zones);
    if (!band) return zones;
    const std::string ceiling =
        band->ceiling > band->high ? fmt::format(", never above {:g}", band->ceiling) : "";
    return fmt::format("{}: basks at UVI {:g} to {:g}{}", zones, band->low, band->high, ceiling);
}

std::string sheet(const Species& species) {
    std::string text = species.scientific_name;
    if (!species.common_names.empty()) text += fmt::format("  ({})", fmt::join(species.common_names, ", "));
    if (species.estimate) text += "  ESTIMATE: nobody has listed it";
    text += fmt::format("\n  {}\n", species.id);
    Columns table({"", "", ""});
    const auto source = [&](const std::string& field) {
        const auto found = species.sources.find(field);
        if (found == species.sources.end()) return std::string("no source given");
        return fmt::format("{} confidence: {}", found->second.confidence, found->second.source);
    };
    const auto row = [&](const std::string& what, const std::string& value, const std::string& field) {
        table.add({"  " + what, value, source(field)});
    };
    row("UV zone", zone_text(species), "zones");
    row("back height", fmt::format("{:g} cm", species.back_height * 100), "back_height_cm");
    row("climbs", species.climbs ? "yes" : "no", "climbs");
    row("basking surface", range_text(species.basking_surface_c), "basking_surface_c");
    row("air, warm end", range_text(species.air_warm_c), "air_warm_c");
    row("air, cool end", range_text(species.air_cool_c), "air_cool_c");
    row("night", range_text(species.night_c), "night_c");
    if (!species.photoperiod.empty()) row("photoperiod", species.photoperiod, "photoperiod");
    text += table.text().substr(1);  // the header row is empty
    if (!species.note.empty()) text += wrapped(species.note, 96, "  ");
    return text;
}

int list_all(const Console& console) {
    Columns table({"scientific name", "common name", "UV zone"});
    for (const Species& species : husbandry::species_library()) {
        const std::string common = species.common_names.empty() ? "" : species.common_names.front();
        table.add({species.scientific_name, common, fmt::format("{}", fmt::join(species.zones, "-"))});
    }
    console.out << table.text();
    return done;
}

int run_species(const std::string& words, bool json, const Console& console) {
    const bool all = words.find_first_not_of(' ') == std::string::npos;
    const std::vector<Species> found = all ? husbandry::species_library() : husbandry::search_species(words);
    if (json) {
        nlohmann::json list = nlohmann::json::array();
        for (const Species& species : found) list.push_back(husbandry::to_json(species));
        return console.print({{"species", list}});
    }
    if (all) return list_all(console);
    if (found.empty()) {
        console.out << "No species like that is listed, nor a relative to estimate it from.\n";
        return done;
    }
    std::string text;
    for (const Species& species : found) text += (text.empty() ? "" : "\n") + sheet(species);
    console.out << text;
    return done;
}

}  // namespace

Command species_command(CLI::App& program) {
    struct Options {
        std::vector<std::string> words;
        bool json = false;
    };
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("species", "What an animal wants, with source and confidence");
    app->add_option("WORDS", options->words, "Scientific or common name, or part of one; nothing lists all");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) {
                return run_species(fmt::format("{}", fmt::join(options->words, " ")), options->json, console);
            }};
}

}  // namespace dapple::cli
