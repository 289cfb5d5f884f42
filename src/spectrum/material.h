// What surfaces and panes are made of: diffuse spectral reflectance, and for panes the optics of a plane
// sheet.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "spectrum/wavelength.h"

namespace dapple::spectrum {

// A clear sheet: real refractive index and absorption coefficient (1/m) by wavelength.
struct Optics {
    Spectrum index;
    Spectrum absorption_per_m;
};

struct Material {
    std::string id;
    std::string name;
    Spectrum reflectance;          // diffuse, 0..1
    std::optional<Optics> optics;  // present when the material can be a pane
    std::string source;            // publication, or "synthetic: how", or "estimate: why"
    std::string confidence;        // high, medium, low
};

// The shipped library, in the order in which it is listed to people.
const std::vector<Material>& materials();
const Material* find_material(std::string_view id);

// A gray material of an enclosure document.
Material gray(std::string id, double reflectance);

// Directional-hemispherical transmittance of a plane sheet for unpolarised light at the angle of incidence
// whose cosine is given (0 < cos <= 1): Fresnel at both faces with the inter-reflections between them summed,
// Beer-Lambert inside over thickness / cos(refracted). (Born & Wolf, Principles of Optics, 1.5; the
// incoherent sum as in Duffie & Beckman, Solar Engineering of Thermal Processes, 5.3.) The mean of both
// polarisations.
Spectrum pane_transmittance(const Optics& optics, double thickness_m, double cos_incidence);

}  // namespace dapple::spectrum
