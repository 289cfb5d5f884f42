// Light through panes keeps its geometry and changes its spectrum. Direct light is therefore summed apart for each
// set of panes it crossed and each step of the angle at which it crossed them; the spectrum is folded in afterwards.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <span>
#include <vector>

#include "light/bands.h"
#include "scene/enclosure.h"
#include "spectrum/quantity.h"

namespace dapple::light {

// One pane crossed at an angle of incidence of that cosine.
struct PaneCrossing {
    int pane;
    double cosine;
};

// Geometric light at unit strength, apart by what it crossed.
struct Transport {
    double clear = 0;                                      // crossed no pane
    std::map<std::vector<std::uint32_t>, double> through;  // by steps of Panes, one for each pane crossed

    bool dark() const { return clear == 0 && through.empty(); }
};

class Panes {
  public:
    explicit Panes(const scene::Enclosure& enclosure);

    int count() const { return static_cast<int>(tables_.size()); }
    // The pane that is the enclosure's screen `screen`, or -1 when that screen leaves the spectrum as it is.
    int pane_of(std::size_t screen) const { return pane_of_[screen]; }

    // Adds light that crossed these panes, shared between the neighbouring steps of the cosine.
    void add(Transport& transport, double weight, std::span<const PaneCrossing> crossed) const;

    // The factor by which the path changes each wavelength of the light: transmittance weighted by amount.
    spectrum::Spectrum factor(const Transport& transport) const;
    // The same, as means over bands weighted by the lamp's spectrum.
    Bands factor(const Transport& transport, const spectrum::Spectrum& lamp) const;
    // Transmittance of one path for a whole weighted spectrum (lamp x weight of a quantity).
    double transmittance(std::span<const PaneCrossing> crossed, const spectrum::Spectrum& weighted) const;
    // The same for one pane alone, at equal steps of the cosine from 0 to 1.
    std::vector<double> transmittances(int pane, const spectrum::Spectrum& weighted) const;

  private:
    spectrum::Spectrum of_steps(const std::vector<std::uint32_t>& steps) const;
    const spectrum::Spectrum& at(std::uint32_t step) const;  // counted on from pane to pane

    using Table = std::vector<spectrum::Spectrum>;      // by step of the cosine
    std::vector<std::shared_ptr<const Table>> tables_;  // by pane; equal panes share one
    std::vector<int> pane_of_;
};

// Means over the bands of `s`, weighted by `weight`; unweighted where a band has no weight.
Bands weighted_band_means(const spectrum::Spectrum& s, const spectrum::Spectrum& weight);

}  // namespace dapple::light
