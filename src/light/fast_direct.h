// Direct light at many points by the vector kernel, and by direct.h wherever the kernel cannot follow: more bodies than
// it holds, and paths through more than one pane (whose spectra do not multiply as single numbers).
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "light/compiled.h"
#include "light/direct.h"

namespace dapple::light {

// Points in the kernel's order: structure of arrays, padded by repeating the last point.
class PointSet {
  public:
    explicit PointSet(std::span<const scene::Vec3> points);

    std::size_t size() const { return size_; }  // without padding
    std::size_t padded() const { return x.size(); }
    scene::Vec3 at(std::size_t i) const {
        return {static_cast<double>(x[i]), static_cast<double>(y[i]), static_cast<double>(z[i])};
    }
    std::vector<float> x, y, z;

  private:
    std::size_t size_;
};

struct Flux {  // a vector each point
    std::vector<float> x, y, z;
};

// How finely a lamp's width is followed: as it is shown, or as it is reflected, where a patch's mean is all that counts.
enum class Grain { shown, reflected };

class FastDirect {
  public:
    FastDirect(const scene::Enclosure& enclosure, const Direct& exact);

    // Parts of a lamp whose light may be taken as coming from about one direction; their fluxes add to the lamp's.
    int parts(int lamp) const;

    // `weighted` is the lamp's spectrum times the weight of the wanted quantity: the light for which panes are judged.
    // All results at unit strength; without panes they do not depend on `weighted`.
    Flux flux(int lamp, int part, const PointSet& points, const spectrum::Spectrum& weighted) const;
    std::vector<float> planar(int lamp, const PointSet& points, const PointSet& normals,
                              const spectrum::Spectrum& weighted, Grain grain = Grain::shown) const;
    std::vector<float> back(int lamp, const PointSet& points, const spectrum::Spectrum& weighted) const;

  private:
    bool exact_only() const;
    void run(const KernelLamp& lamp, const KernelPoints& points, std::size_t count,
             const KernelResult& result, const spectrum::Spectrum& weighted) const;

    const scene::Enclosure& enclosure_;
    const Direct& exact_;
    CompiledScene scene_;
    std::vector<float> back_weight_;
};

}  // namespace dapple::light
