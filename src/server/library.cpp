#include "server/library.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "spectrum/lamp_spectrum.h"
#include "spectrum/material.h"

namespace dapple::server {

using nlohmann::json;

namespace {

double mean(const spectrum::Spectrum& s, int from_nm, int to_nm) {
    return s.segment(from_nm - spectrum::first_nm, to_nm - from_nm + 1).mean();
}

// The transfer curve of IEC 61966-2-1 (sRGB), from linear 0..1 to 0..255.
int srgb(double linear) {
    const double x = std::clamp(linear, 0.0, 1.0);
    const double curved = x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
    return static_cast<int>(std::lround(255 * curved));
}

std::string colour(const spectrum::Spectrum& reflectance) {
    return fmt::format("#{:02x}{:02x}{:02x}", srgb(mean(reflectance, 600, 700)),
                       srgb(mean(reflectance, 500, 600)), srgb(mean(reflectance, 400, 500)));
}

double rounded(double value) {
    return std::round(value * 1e4) / 1e4;
}

}  // namespace

json materials_document() {
    json list = json::array();
    for (const spectrum::Material& m : spectrum::materials()) {
        list.push_back({{"id", m.id},
                        {"name", m.name},
                        {"colour", colour(m.reflectance)},
                        {"pane", m.optics.has_value()},
                        {"uvb_reflectance", rounded(mean(m.reflectance, 280, 315))},
                        {"visible_reflectance", rounded(mean(m.reflectance, 400, 700))},
                        {"source", m.source},
                        {"confidence", m.confidence}});
    }
    return {{"materials", list}};
}

json spectra_document() {
    constexpr int from_nm = 250;
    constexpr int to_nm = 800;
    json list = json::array();
    for (const spectrum::LampSpectrum& s : spectrum::lamp_spectra()) {
        const auto shown = s.relative.segment(from_nm - spectrum::first_nm, to_nm - from_nm + 1);
        const double highest = std::max(shown.maxCoeff(), 1e-300);
        json nm = json::array();
        json relative = json::array();
        for (int i = 0; i < shown.size(); ++i) {
            nm.push_back(from_nm + i);
            relative.push_back(rounded(shown[i] / highest));
        }
        list.push_back(
            {{"id", s.id}, {"name", s.name}, {"source", s.source}, {"nm", nm}, {"relative", relative}});
    }
    return {{"spectra", list}};
}

}  // namespace dapple::server
