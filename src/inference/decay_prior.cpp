#include "inference/decay_prior.h"

#include <cmath>

namespace dapple::inference {

namespace {

// alpha of lamps of which half are down to 70 % by then
double rate_of(double hours_to_70_percent) {
    return std::log(1 / 0.7) / (hours_to_70_percent / 1000);
}

constexpr std::string_view seasoning =
    "seasoning of discharge lamps before photometry, IES LM-54 (100 h, from memory)";

}  // namespace

double DecayPrior::hours_to(double share) const {
    return 1000 * std::log(1 / share) / median_per_1000h;
}

std::string_view name(LampKind kind) {
    switch (kind) {
        case LampKind::fluorescent_tube:
            return "fluorescent_tube";
        case LampKind::compact:
            return "compact";
        case LampKind::mercury_vapour:
            return "mercury_vapour";
        case LampKind::metal_halide:
            return "metal_halide";
        case LampKind::led:
            return "led";
        case LampKind::halogen:
            return "halogen";
        case LampKind::unknown:
            break;
    }
    return "unknown";
}

std::optional<LampKind> lamp_kind_named(std::string_view word) {
    for (const LampKind kind : lamp_kinds) {
        if (name(kind) == word) return kind;
    }
    return std::nullopt;
}

const DecayPrior& decay_prior(LampKind kind) {
    // Hours at 12 a day: 2190 are 6 months, 4380 a year.
    static const DecayPrior tube = {
        rate_of(4400), 0.5, 100,
        "UV tubes are replaced after about a year, taken as 70 % of the output (common practice, no source)",
        seasoning};
    static const DecayPrior compact = {
        rate_of(3300), 0.5, 100,
        "replaced after 6 to 12 months, taken as 70 % of the output (common practice, no source)", seasoning};
    static const DecayPrior mercury = {rate_of(3100), 0.5, 100,
                                       "sold to last a year, replaced after 6 to 12 months, taken as 70 % of "
                                       "the output (common practice, no source)",
                                       seasoning};
    static const DecayPrior halide = {rate_of(4400), 0.5, 100,
                                      "replaced after about a year (common practice, no source); their "
                                      "visible light fades by 22 to 33 % in the "
                                      "first 40 % of rated life (D. M. Keith, Lamp Lumen Depreciation)",
                                      seasoning};
    static const DecayPrior led = {rate_of(20000), 0.8, 1000,
                                   "between white LEDs, 50,000 h to 70 %, and UVB LEDs, some 10,000 h "
                                   "(common practice, no source): wide",
                                   "ANSI/IES TM-21 leaves out the first 1000 h (from memory)"};
    static const DecayPrior halogen = {
        0.025, 0.5, 10, "about 95 % of the light is left after 2000 h (from memory, IES Lighting Handbook)",
        "seasoning of filament lamps, half a per cent of rated life, IES LM-54 (from memory)"};
    static const DecayPrior unknown = {rate_of(4400), 0.9, 100,
                                       "any of the kinds above, hence wide (our judgement)", seasoning};
    switch (kind) {
        case LampKind::fluorescent_tube:
            return tube;
        case LampKind::compact:
            return compact;
        case LampKind::mercury_vapour:
            return mercury;
        case LampKind::metal_halide:
            return halide;
        case LampKind::led:
            return led;
        case LampKind::halogen:
            return halogen;
        case LampKind::unknown:
            break;
    }
    return unknown;
}

LampKind kind_of(const scene::Lamp& lamp) {
    const std::string& id = lamp.spectrum.id;
    if (id.starts_with("fluorescent")) {
        const auto* tube = std::get_if<scene::Tube>(&lamp.shape);
        return tube != nullptr && tube->coil ? LampKind::compact : LampKind::fluorescent_tube;
    }
    if (id.starts_with("led")) return LampKind::led;
    return lamp_kind_named(id).value_or(LampKind::unknown);
}

}  // namespace dapple::inference
