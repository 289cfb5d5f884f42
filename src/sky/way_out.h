// What a straight ray loses between a place in an enclosure and the open sky.
//
// Furniture and walls stop it, meshes, shade cloth and leaves dim it, panes colour it. A wall of a clear material (glass,
// acrylic, polycarbonate) is taken as a sheet of 4 mm (our judgement; a screen says another thickness). Light that comes by
// way of surfaces inside the enclosure is not followed.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "light/embree.h"
#include "scene/enclosure.h"
#include "spectrum/wavelength.h"

namespace dapple::sky {

inline constexpr double clear_wall_thickness = 0.004;  // m

struct Way {
    float through = 0;       // by meshes, cloth and leaves; zero where something stands
    std::uint32_t kind = 0;  // by the panes it crossed; 0: none
};

class WaysOut {
  public:
    explicit WaysOut(const scene::Enclosure& enclosure);

    // From a point in the box along a unit direction. May be asked from several threads.
    Way along(const scene::Vec3& point, const scene::Vec3& direction) const;

    // What the panes of one kind leave of `count` wavelengths from a sample on: the angle of incidence is known to 1/128 of
    // its cosine. Each pane's spectrum at each step is computed once. May be asked from several threads.
    Eigen::ArrayXd transmittance(std::uint32_t kind, Eigen::Index first = 0,
                                 Eigen::Index count = spectrum::samples) const;

    bool has_panes() const { return panes_; }

  private:
    using Crossings = std::vector<std::uint32_t>;  // of panes: index and step of the cosine

    std::uint32_t kind_of(const Crossings& crossed) const;
    const spectrum::Spectrum& pane_at_step(std::uint32_t crossing) const;  // with mutex_ held

    scene::Enclosure enclosure_;  // with its clear walls as panes
    light::FurnitureRays furniture_;
    bool panes_ = false;
    mutable std::mutex mutex_;
    mutable std::map<Crossings, std::uint32_t> kinds_;
    mutable std::vector<Crossings> crossings_;
    mutable std::map<std::uint32_t, spectrum::Spectrum> pane_spectra_;
};

}  // namespace dapple::sky
