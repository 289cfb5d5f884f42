// Relative spectral power of lamps.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"
#include "spectrum/wavelength.h"

namespace dapple::spectrum {

struct LampSpectrum {
    std::string id;
    std::string name;
    Spectrum relative;   // any scale; never negative, not all zero
    std::string source;  // publication, or "synthetic: how"
};

const std::vector<LampSpectrum>& lamp_spectra();
const LampSpectrum* find_lamp_spectrum(std::string_view id);

// A user's two-column table: wavelength in nm, relative power. Header rows, comments (#), comma, semicolon or
// tab, and decimal commas (with semicolon or tab) are understood. `file` names it in messages.
Expected<LampSpectrum> parse_spectrum_csv(std::string_view text, const std::string& file);

}  // namespace dapple::spectrum
