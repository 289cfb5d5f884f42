#include "spectrum/lamp_spectrum.h"

#include <algorithm>

#include "spectrum/table.h"

namespace dapple::spectrum {

namespace {

LampSpectrum read_lamp_spectrum(const std::string& path) {
    const auto table = shipped_table(path);
    return {table.note("id"), table.note("name"),
            resample(table.column("wavelength_nm"), table.column("relative"), Outside::zero),
            table.note("source")};
}

}  // namespace

const std::vector<LampSpectrum>& lamp_spectra() {
    static const auto all = [] {
        std::vector<LampSpectrum> read;
        for (const auto& path : shipped_tables("spectra/")) read.push_back(read_lamp_spectrum(path));
        return read;
    }();
    return all;
}

const LampSpectrum* find_lamp_spectrum(std::string_view id) {
    const auto& all = lamp_spectra();
    const auto it = std::find_if(all.begin(), all.end(), [&](const LampSpectrum& s) { return s.id == id; });
    return it == all.end() ? nullptr : &*it;
}

}  // namespace dapple::spectrum
