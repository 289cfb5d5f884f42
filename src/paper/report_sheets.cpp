// The last pages: what the animals are said to want and by whom, how it was worked out, and cautions.
#include <fmt/format.h>

#include <map>

#include "husbandry/words.h"
#include "paper/report_pages.h"

namespace dapple::paper {

namespace {

using husbandry::Range;
using husbandry::Species;

std::string range_words(const std::optional<Range>& range) {
    return range ? fmt::format("{:g} to {:g} °C", range->first, range->second) : std::string();
}

// A row for a value that is known; its source and confidence beside it.
void add_value(Table& table, const Species& species, const char* title, const char* source_field,
               const std::string& value) {
    if (value.empty()) return;
    const auto source = species.sources.find(source_field);
    const bool known = source != species.sources.end();
    table.rows.push_back({title, value, known ? source->second.source : "no source given",
                          known ? source->second.confidence : "-"});
}

void write_sheet(Book& book, const husbandry::AnimalJudgement& animal) {
    const Species& s = animal.species;
    book.heading(
        3, s.common_names.empty() ? s.scientific_name : s.scientific_name + ", " + s.common_names.front());
    if (s.estimate)
        book.paragraph("Nobody listed this species: every value is an estimate from its relatives.");
    Table table;
    table.size = 7.5;
    table.columns = {{"Value", 17}, {"", 23}, {"Source", 48}, {"Confidence", 12}};
    std::string zones = fmt::format("{}", fmt::join(s.zones, " to "));
    if (animal.band) {
        zones += fmt::format("{}band {} to {} UVI", zones.empty() ? "" : "; ",
                             husbandry::uvi_in_words(animal.band->low),
                             husbandry::uvi_in_words(animal.band->high));
    }
    add_value(table, s, "UV zone and band", "zones", zones);
    add_value(table, s, "back height", "back_height_cm",
              s.back_height > 0 ? fmt::format("{:g} cm", 100 * s.back_height) : "");
    add_value(table, s, "climbs", "climbs", s.climbs ? "yes" : "no");
    add_value(table, s, "basking surface", "basking_surface_c", range_words(s.basking_surface_c));
    add_value(table, s, "air, warm side", "air_warm_c", range_words(s.air_warm_c));
    add_value(table, s, "air, cool side", "air_cool_c", range_words(s.air_cool_c));
    add_value(table, s, "night", "night_c", range_words(s.night_c));
    add_value(table, s, "photoperiod", "photoperiod", s.photoperiod);
    book.table(table);
}

}  // namespace

void write_sheets(Book& book, const Account& account) {
    std::map<std::string, const husbandry::AnimalJudgement*> animals;
    for (const EnclosureAccount& one : account.enclosures) {
        if (!one.judgement) continue;
        for (const auto& animal : one.judgement->animals) animals.emplace(animal.species.id, &animal);
    }
    if (animals.empty()) return;
    book.heading(1, "What the animals are said to want");
    book.paragraph(
        "Guidance from the literature or from memory, as said beside each value. Where an enclosure sets its "
        "own band "
        "or back height for an animal, the first such is shown.");
    for (const auto& [id, animal] : animals) write_sheet(book, *animal);
}

void write_method(Book& book, const Account& account) {
    book.heading(1, "How this was worked out");
    book.paragraph(
        "The light of each enclosure was computed from its description (lamps with their measured output, "
        "spectrum and "
        "direction; mesh, panes and leaves in the way; walls and furniture that reflect) and, where readings "
        "were there, "
        "fitted to them: each lamp's output, each screen's transmittance, each plant's density and each "
        "meter's "
        "common error are unknowns with a prior spread, and readings that do not agree with the others are "
        "set aside and named. "
        "Intervals are 90 % of what the fit leaves possible; they hold the meter's noise, a placing error of "
        "two centimetres and "
        "those unknowns, and not what the description leaves out: a forgotten branch, a lamp in the wrong "
        "place, a "
        "material that reflects otherwise. Without readings there is no interval, and a computed value may "
        "be off by a third "
        "or more, as lamps of one kind differ that much (our judgement). Readings of the record are "
        "corrected by the "
        "meter's last calibration before them; hand-held UV meters differ among themselves by some tens of "
        "per cent under "
        "lamps whose spectrum is not that of the sun they were calibrated for (from memory). \"In\" and "
        "\"out of band\" "
        "\"since\" speak only of days on which somebody measured. Lamps' dates follow from their own "
        "readings by exponential decay; "
        "a date further out than six times the time observed is marked, as no standard would project that "
        "far (ANSI/IES "
        "TM-21). Surface temperatures are estimates of a steady day, never a thermostat.");
    book.paragraph(fmt::format(
        "UV index: ISO/CIE 17166. UV zones 1 to 4: Ferguson et al. 2010, Zoo Biology 29, numbers from "
        "memory. Worked out by Dapple " DAPPLE_VERSION " on {} UTC.",
        record::to_text(account.made).substr(0, 16).replace(10, 1, " ")));
}

void write_cautions(Book& book) {
    book.heading(2, "Cautions");
    book.bullets(
        {"Ultraviolet can injure eyes and skin of animals and people. Never look into a lamp; survey with "
         "lamps' guards in "
         "place; switch off and let cool before moving anything.",
         "A number from a model is not a diagnosis: sick, young, albino or gravid animals need a reptile "
         "vet.",
         "Mains, heat and fire: fixed fittings, thermostats, guards, the local electrical code, a licensed "
         "electrician.",
         "Species values are guidance from the literature or from memory, with that said beside each of "
         "them."});
}

}  // namespace dapple::paper
