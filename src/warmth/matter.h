// What heat finds in a material: how well it conducts and radiates, and how thick a wall of it usually is.
#pragma once

#include <string_view>

#include "spectrum/material.h"

namespace dapple::warmth {

struct Matter {
    double conductivity;  // W/m/K
    double emissivity;    // hemispherical, at 300 K
    double thickness;     // m, of a wall where the document does not say; of the ground where it is a floor
    const char* like;     // the row of the source it is taken from
};

// Conductivity: Incropera & DeWitt tables A.3, A.6; emissivity: table A.11 (reference/checks/heat_checks.csv, from
// memory); thickness: common practice, no source. Materials of a document's own count as wood.
const Matter& matter_of(std::string_view material_id);

// Shares of a light of that spectrum which a surface reflects and a clear sheet lets through; the rest it absorbs.
struct Optical {
    double reflected = 0;
    double transmitted = 0;
    double absorbed() const { return 1 - reflected - transmitted; }
};

// At 45 degrees for sheets. `sheet_thickness` 0: what lies behind is opaque (furniture, floors).
Optical optical(const spectrum::Material& material, const spectrum::Spectrum& relative,
                double sheet_thickness);

}  // namespace dapple::warmth
