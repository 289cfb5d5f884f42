// The quantities a person reads: each one weighted integral of a spectral irradiance in W/m2/nm.
//
//   uvi         40 m2/W x erythemally weighted irradiance        ISO/CIE 17166:2019
//   erythemal   W/m2, erythema action spectrum                   ISO/CIE 17166:2019
//   d3          W/m2, previtamin D3 action spectrum              CIE 174:2006
//   actinic     W/m2, S(lambda), logarithmic between its rows    IEC 62471:2006, ICNIRP 2004
//   uvc uvb uva W/m2, boxes 200-280, 280-315, 315-400 nm         CIE 017:2020 (ILV)
//   lux         683 lm/W x V(lambda)                             ISO/CIE 11664-1, CIE 018:2019
//   irradiance  W/m2, the whole axis
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "spectrum/wavelength.h"

namespace dapple::spectrum {

enum class Quantity { uvi, erythemal, d3, actinic, uvc, uvb, uva, lux, irradiance };

inline constexpr std::array quantities = {Quantity::uvi,     Quantity::erythemal, Quantity::d3,
                                          Quantity::actinic, Quantity::uvc,       Quantity::uvb,
                                          Quantity::uva,     Quantity::lux,       Quantity::irradiance};

// The name used in documents and answers: "uvi", "erythemal_w_m2", "d3_w_m2", ... "lux", "irradiance_w_m2".
std::string_view name(Quantity quantity);
std::optional<Quantity> quantity_named(std::string_view name);

// The weight per sample that turns spectral irradiance into the quantity: quantity = sum(weight x
// irradiance). Trapezoid halves at the edges of a box, and all constants (40, 683), are already in it.
const Spectrum& weight(Quantity quantity);

double measure(const Spectrum& irradiance, Quantity quantity);

}  // namespace dapple::spectrum
