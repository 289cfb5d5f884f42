#include "spectrum/quantity.h"

#include <algorithm>
#include <cmath>

#include "spectrum/table.h"

namespace dapple::spectrum {

namespace {

constexpr double uvi_per_erythemal = 40;  // m2/W, ISO/CIE 17166:2019
constexpr double lumens_per_watt = 683;   // the lumen of ISO/CIE 11664-1; 683.002 since 2019, 3e-6 apart
constexpr int erythema_first_nm = 250, erythema_last_nm = 400;

// ISO/CIE 17166:2019: three pieces that meet at 298 and 328 nm. (The form of 1987 has 139 in the last
// one, 3.4 % lower and with a step at 328 nm.)
double erythema(int nm) {
    if (nm <= 298) return 1;
    if (nm <= 328) return std::pow(10, 0.094 * (298 - nm));
    return std::pow(10, 0.015 * (140 - nm));
}

Spectrum erythema() {
    Spectrum weight = constant(0);
    for (int nm = erythema_first_nm; nm <= erythema_last_nm; ++nm) weight[nm - first_nm] = erythema(nm);
    return weight;
}

Spectrum box(int from_nm, int to_nm) {
    Spectrum weight = constant(0);
    weight.segment(from_nm - first_nm, to_nm - from_nm + 1) = 1;
    weight[from_nm - first_nm] = weight[to_nm - first_nm] = 0.5;
    return weight;
}

Spectrum tabled(std::string_view path) {
    const auto table = shipped_table(path);
    return resample(table.column("wavelength_nm"), table.column("weight"), Outside::zero);
}

Spectrum tabled_log(std::string_view path) {
    const auto table = shipped_table(path);
    return resample_log(table.column("wavelength_nm"), table.column("weight"), Outside::zero);
}

Spectrum make_weight(Quantity quantity) {
    switch (quantity) {
        case Quantity::uvi:
            return uvi_per_erythemal * erythema();
        case Quantity::erythemal:
            return erythema();
        case Quantity::d3:
            return tabled("weights/previtamin_d3.csv");
        case Quantity::actinic:
            return tabled_log("weights/actinic.csv");
        case Quantity::uvc:
            return box(first_nm, 280);
        case Quantity::uvb:
            return box(280, 315);
        case Quantity::uva:
            return box(315, 400);
        case Quantity::lux:
            return lumens_per_watt * tabled("weights/photopic.csv");
        case Quantity::irradiance:
            return box(first_nm, last_nm);
    }
    return constant(0);  // not reached: every quantity has its case
}

constexpr std::array<std::string_view, quantities.size()> names = {
    "uvi",      "erythemal_w_m2", "d3_w_m2", "actinic_w_m2",   "uvc_w_m2",
    "uvb_w_m2", "uva_w_m2",       "lux",     "irradiance_w_m2"};

}  // namespace

std::string_view name(Quantity quantity) {
    return names.at(static_cast<std::size_t>(quantity));
}

std::optional<Quantity> quantity_named(std::string_view name) {
    const auto* const it = std::find(names.begin(), names.end(), name);
    if (it == names.end()) return std::nullopt;
    return quantities.at(static_cast<std::size_t>(it - names.begin()));
}

const Spectrum& weight(Quantity quantity) {
    static const auto weights = [] {
        std::array<Spectrum, quantities.size()> all;
        std::transform(quantities.begin(), quantities.end(), all.begin(), make_weight);
        return all;
    }();
    return weights.at(static_cast<std::size_t>(quantity));
}

double measure(const Spectrum& irradiance, Quantity quantity) {
    return (irradiance * weight(quantity)).sum();
}

}  // namespace dapple::spectrum
