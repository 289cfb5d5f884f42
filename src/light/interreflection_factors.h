// Form factors between patches, estimated by rays, and the exchange of light through them.
//
// F(i, j) is the share of the rays from patch i, cosine-distributed and evenly spread over its open area,
// that end on patch j, each counted with what is left of it. Rows add up to at most 1, so that light is never
// made; the error of a row's gathered light is about that of a cosine-weighted mean of `rays` radiosities.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "light/bands.h"
#include "light/interreflection_space.h"

namespace dapple::light {

// The bands of one patch, padded to whole vector registers.
inline constexpr int padded_bands = (bands + 7) / 8 * 8;
using Lanes = Eigen::Array<float, padded_bands, 1>;
Lanes padded(const Bands& values);
Bands unpadded(const Lanes& values);

class FormFactors {
  public:
    FormFactors(const Patches& patches, const Space& space, int rays_per_patch, std::uint32_t seed);

    // into[i] = reflectance[i] x sum over j of F(i, j) from[j].
    void reflect(const std::vector<Lanes>& from, std::vector<Lanes>& into) const;

    // F(i, j) in one band.
    double between(int i, int j, int band = 0) const;

    std::size_t entries() const { return column_.size(); }

  private:
    std::vector<Lanes> reflectance_;
    std::vector<std::size_t> row_;  // begin of row i; one more at the end
    std::vector<int> column_;
    std::vector<float> share_;   // gray ways
    std::vector<Lanes> colour_;  // instead of `share_` when panes colour the light
};

}  // namespace dapple::light
