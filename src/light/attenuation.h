// What a straight ray loses on its way through screens and leaves.
//
// Enclosure frame, metres. Shared by direct light and interreflection, so that both mean the same by a mesh.
#pragma once

#include <array>
#include <optional>

#include "light/bands.h"
#include "scene/enclosure.h"

namespace dapple::light {

// Transmittance 0..1 of a woven mesh of round black wires for light whose unit direction has the components
// wu and wv along the wires and wn along the mesh's normal (signs do not matter):
//     tau = max(0, 1 - (w/p)/c_u) max(0, 1 - (w/p)/c_v),  c_u = |wn| / sqrt(wu^2 + wn^2), c_v alike.
// At normal incidence the open area ((p - w)/p)^2 of ASTM E2016. Each layer is exact for straight round
// wires; crimp and reflection at the wires are neglected. Zero along the plane of the mesh.
double mesh_transmittance(const scene::Mesh& mesh, double wu, double wv, double wn);

// Where the way from `from` to `to` crosses the screen's rectangle (its edges belong to it): the parameter
// 0 < t < 1 of the point from + t (to - from), or none.
std::optional<double> crossing(const scene::Screen& screen, const scene::Vec3& from, const scene::Vec3& to);

// Whether the screen colours light: an unmeasured pane. All others are gray.
bool is_spectral(const scene::Screen& screen);

// Transmittance 0..1 of a gray screen for light of the given unit direction: what was measured, at every
// angle; else the mesh's. Not for spectral screens.
double screen_transmittance_gray(const scene::Screen& screen, const scene::Vec3& direction);

// Metres of the way from `from` to `to` inside the leaves.
double foliage_path(const scene::Foliage& foliage, const scene::Vec3& from, const scene::Vec3& to);

// exp(-0.5 LAD path): leaves of spherical angle distribution (Monsi & Saeki 1953).
double foliage_transmittance(const scene::Foliage& foliage, const scene::Vec3& from, const scene::Vec3& to);

// An unmeasured pane's transmittance by band: the unweighted band means of spectrum::pane_transmittance at 64
// equal steps of the cosine of incidence, linear between them. Off the exact means by less than 0.002 where
// the cosine exceeds 0.05; beyond that a pane lets next to nothing through.
class PaneTable {
  public:
    explicit PaneTable(const scene::Pane& pane);
    Bands at(double cos_incidence) const;

  private:
    std::array<Bands, 65> at_step_;
};

}  // namespace dapple::light
