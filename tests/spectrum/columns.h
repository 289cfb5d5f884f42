// A column of a check table as a spectrum on the engine's axis.
#pragma once

#include <string>
#include <vector>

#include "../reference.h"
#include "spectrum/wavelength.h"

namespace dapple::tests {

inline std::vector<double> column(const std::vector<Row>& rows, const std::string& name) {
    std::vector<double> values;
    values.reserve(rows.size());
    for (const auto& row : rows) values.push_back(number(row, name));
    return values;
}

inline spectrum::Spectrum spectrum_column(const std::vector<Row>& rows, const std::string& name) {
    return spectrum::resample(column(rows, "wavelength_nm"), column(rows, name), spectrum::Outside::zero);
}

inline double at(const spectrum::Spectrum& spectrum, int nm) {
    return spectrum[nm - spectrum::first_nm];
}

}  // namespace dapple::tests
