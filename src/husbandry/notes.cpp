#include <fmt/format.h>

#include <algorithm>

#include "husbandry/judging.h"
#include "husbandry/words.h"

namespace dapple::husbandry {

namespace {

using spectrum::Quantity;

// D3-effective over erythemal irradiance: 1.3 to 2.5 for the shipped UVB lamps, near 0 where only UVA is left. The
// threshold between them is our judgement.
constexpr double least_d3_to_erythemal = 0.5;
constexpr double worth_a_note_uvi = 0.1;

// UVC worth a warning, by our judgement. The shipped spectra of ordinary UVB lamps have a tail of at most half a
// percent of their UVB below 280 nm, which is their formula's rather than the lamps'; an uncovered arc or filament has
// far more.
constexpr double least_uvc_w_m2 = 0.001;
constexpr double least_uvc_to_uvb = 0.01;

// IEC 62471:2006, 4.3.1 (after ICNIRP 2004): 30 J/m2 actinic in any 8 hours on unprotected skin or eyes.
constexpr double actinic_limit_j_m2 = 30;
constexpr double working_day_s = 8 * 3600;

std::string duration(double seconds) {
    if (seconds < 90) return fmt::format("{:.0f} s", seconds);
    if (seconds < 90 * 60) return fmt::format("{:.0f} min", seconds / 60);
    return fmt::format("{:.1f} h", seconds / 3600);
}

void note_lamps(const scene::Enclosure& enclosure, std::vector<std::string>& notes) {
    if (enclosure.lamps.empty())
        notes.emplace_back("There is no lamp in this enclosure: every place is dark.");
    for (const scene::Lamp& lamp : enclosure.lamps) {
        if (!lamp.output.empty()) continue;
        notes.push_back(fmt::format(
            "Nothing is known of the output of lamp \"{}\"; it counts as dark until a reading is given.",
            lamp.name.empty() ? lamp.id : lamp.name));
    }
}

void note_light(const Reading& brightest, std::vector<std::string>& notes) {
    const double uvi = value(brightest, Quantity::uvi);
    const double erythemal = value(brightest, Quantity::erythemal);
    const double d3 = value(brightest, Quantity::d3);
    if (uvi > worth_a_note_uvi && d3 < least_d3_to_erythemal * erythemal) {
        notes.push_back(
            fmt::format("The UV here is nearly all UVA, as behind glass: {} UVI, but next to no vitamin D3 "
                        "(D3-effective {:.2f} of "
                        "the erythemal irradiance; UVB lamps give 1.3 to 2.5).",
                        uvi_in_words(uvi), d3 / erythemal));
    }
    const double uvc = value(brightest, Quantity::uvc);
    if (uvc > least_uvc_w_m2 && uvc > least_uvc_to_uvb * value(brightest, Quantity::uvb)) {
        notes.push_back(
            fmt::format("UVC at the brightest place: {:.3f} W/m2. No lamp for animals should give any; "
                        "switch it off and have it "
                        "checked.",
                        uvc));
    }
    const double actinic = value(brightest, Quantity::actinic);
    if (actinic * working_day_s > actinic_limit_j_m2) {
        notes.push_back(
            fmt::format("For people: at the brightest place bare skin or eyes reach the daily limit (30 J/m2 "
                        "actinic, IEC 62471 and "
                        "ICNIRP) after {}. Never look into a lamp.",
                        duration(actinic_limit_j_m2 / actinic)));
    }
}

void note_animals(const std::vector<AnimalJudgement>& animals, std::vector<std::string>& notes) {
    for (const AnimalJudgement& animal : animals) {
        const Species& s = animal.species;
        if (s.estimate) {
            notes.push_back(
                fmt::format("{} is in no list of ours. Its values are estimates.", s.scientific_name));
        }
        if (!animal.band) {
            notes.push_back(
                fmt::format("The UV zone of {} is not known; give it a zone or a band.", s.scientific_name));
        }
        if (s.back_height <= 0) {
            notes.push_back(fmt::format("The back height of {} is not known; it is read where its feet are.",
                                        s.scientific_name));
        }
    }
    if (!animals.empty()) {
        notes.emplace_back(
            "A computed verdict is no diagnosis: sick, young, albino or gravid animals need a reptile vet.");
    }
}

}  // namespace

double value(const Reading& reading, Quantity quantity) {
    const auto it = std::find(spectrum::quantities.begin(), spectrum::quantities.end(), quantity);
    return reading[static_cast<std::size_t>(it - spectrum::quantities.begin())];
}

std::vector<std::string> notes_on(const scene::Enclosure& enclosure,
                                  const std::vector<AnimalJudgement>& animals, const Reading& brightest) {
    std::vector<std::string> notes;
    note_lamps(enclosure, notes);
    note_light(brightest, notes);
    note_animals(animals, notes);
    return notes;
}

}  // namespace dapple::husbandry
