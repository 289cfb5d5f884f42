#include <algorithm>
#include <cmath>

#include "spectrum/material.h"

namespace dapple::spectrum {

namespace {

// Transmittance of a slab from the reflectance of one face and the transmittance of one passage, all passages
// summed without interference: (1-r)^2 t / (1 - r^2 t^2).
double slab(double face, double passage) {
    return (1 - face) * (1 - face) * passage / (1 - face * face * passage * passage);
}

}  // namespace

Spectrum pane_transmittance(const Optics& optics, double thickness_m, double cos_incidence) {
    constexpr double grazing = 1e-6;  // exactly along the sheet the faces' formulas are 0/0
    const double cos_outside = std::clamp(cos_incidence, grazing, 1.0);
    const double sin2_outside = 1 - cos_outside * cos_outside;
    Spectrum result(samples);
    for (int i = 0; i < samples; ++i) {
        const double n = optics.index[i];
        const double cos_inside = std::sqrt(std::max(0.0, 1 - sin2_outside / (n * n)));  // Snell
        const double across = (cos_outside - n * cos_inside) / (cos_outside + n * cos_inside);
        const double along = (n * cos_outside - cos_inside) / (n * cos_outside + cos_inside);
        const double passage = std::exp(-optics.absorption_per_m[i] * thickness_m / cos_inside);
        result[i] = 0.5 * (slab(across * across, passage) + slab(along * along, passage));
    }
    return result;
}

}  // namespace dapple::spectrum
