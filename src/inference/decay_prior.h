// How fast lamps of a kind lose output: the prior of the decay rate and the burn-in before it holds.
//
// Output falls as exp(-alpha h) over the hours h a lamp has burned (ANSI/IES TM-21 uses this law for LEDs). Alpha is
// log-normal among the lamps of a kind. Where trade and handbooks speak of the time to 70 % of the output, alpha is
// ln(1/0.7) over that time.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "scene/enclosure.h"

namespace dapple::inference {

enum class LampKind { fluorescent_tube, compact, mercury_vapour, metal_halide, led, halogen, unknown };

inline constexpr std::array lamp_kinds = {
    LampKind::fluorescent_tube, LampKind::compact, LampKind::mercury_vapour,
    LampKind::metal_halide,     LampKind::led,     LampKind::halogen,
    LampKind::unknown};

struct DecayPrior {
    double median_per_1000h;  // alpha
    double log_sd;            // of ln alpha, between lamps of the kind
    double burn_in_hours;     // readings before are left out of the fit
    std::string_view source;  // of alpha
    std::string_view burn_in_source;

    double hours_to(double share) const;  // median, e.g. to 0.7 of the output
};

// "fluorescent_tube", "compact", "mercury_vapour", "metal_halide", "led", "halogen", "unknown".
std::string_view name(LampKind kind);
std::optional<LampKind> lamp_kind_named(std::string_view name);

const DecayPrior& decay_prior(LampKind kind);

// By the lamp's spectrum and shape; unknown where a keeper's own spectrum leaves it open.
LampKind kind_of(const scene::Lamp& lamp);

}  // namespace dapple::inference
