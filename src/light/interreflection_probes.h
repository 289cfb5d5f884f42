// Probes of reflected light on a grid of the enclosure, and what lies between them.
//
// Near 1000 probes stand on the nodes of a regular grid that spans the box up to 1 cm from its walls. Each
// sees the patches' radiosity along evenly spread rays and keeps it as nine spherical-harmonic coefficients a
// band. Between nodes they are interpolated trilinearly; nodes within furniture do not count, and where all
// eight are within, the nearest one outside does.
#pragma once

#include <array>
#include <vector>

#include "light/interreflection.h"
#include "light/interreflection_solve.h"

namespace dapple::light {

class Probes {
  public:
    Probes(const Patches& patches, const Space& space, const std::vector<Radiosity>& by_lamp, double turn,
           int rays = 192, int probes = 1000);
    IndirectProbe at(int lamp, const scene::Vec3& point) const;

  private:
    scene::Vec3 node(int i) const;
    std::size_t number(const std::array<int, 3>& cell) const;

    scene::Vec3 origin_;
    scene::Vec3 step_;
    std::array<int, 3> nodes_{};
    std::vector<char> free_;                         // by node
    std::vector<std::vector<IndirectProbe>> probe_;  // [lamp][node]
};

}  // namespace dapple::light
