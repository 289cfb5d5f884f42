// Light that reaches a place after one or more diffuse reflections from walls and furniture.
//
// Sparse Monte-Carlo radiosity: surfaces are cut into patches; from each patch cosine-distributed rays find
// what it sees, once for all lamps and wavelengths; the radiosity equation B = rho (E + F B) is then iterated
// in each band for each lamp. A ray is attenuated by screens and foliage and absorbed by the bodies of lamps
// and by open walls. (Cohen & Wallace 1993, Radiosity and Realistic Image Synthesis, ch. 4-5; Goral et al.
// 1984.)
//
// Everything is per lamp and relative to unit lamp strength (see light/lamp.h): multiply by the lamp's
// strength and relative spectrum to get W/m2/nm.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "light/bands.h"
#include "scene/enclosure.h"

namespace dapple::light {

// Direct irradiance at unit lamp strength on surface points: fills out[i] for points[i] with normal
// normals[i]; per band because panes in the path are spectral. The points stand 1e-5 m off their surface. It
// is kept for as long as light is gathered and may be called from several threads.
using DirectOnSurfaces = std::function<void(int lamp, std::span<const scene::Vec3> points,
                                            std::span<const scene::Vec3> normals, std::span<Bands> out)>;

struct InterreflectionOptions {
    int bounces = -1;          // -1: until less than 0.1 % of the light is still under way; 0: none
    int rays_per_patch = 64;   //
    double patch_size = 0.05;  // m, wanted edge; finer on the strip behind a tube
    std::uint32_t seed = 1;    // every run with the same seed gives the same numbers
};

// Light arriving at a point from one sampled direction: radiance x solid angle, per band, at unit strength.
struct IndirectPacket {
    scene::Vec3 direction;  // unit, from the point to where the light comes from
    Bands weight;           // planar irradiance facing `direction`, at unit lamp strength
};

// Irradiance by orientation from a second-order expansion in spherical harmonics (Ramamoorthi & Hanrahan
// 2001, SIGGRAPH, eq. 13), in one quantity.
struct IndirectProbe {
    Eigen::Array<double, 9, 1> coefficients = Eigen::Array<double, 9, 1>::Zero();
    double irradiance(const scene::Vec3& normal) const;
    scene::Vec3 flux() const;  // the flux vector: along an axis, E(axis) - E(-axis)
};

class Interreflection {
  public:
    Interreflection(const scene::Enclosure& enclosure, const DirectOnSurfaces& direct,
                    const InterreflectionOptions& options = {});
    ~Interreflection();
    Interreflection(Interreflection&&) noexcept;
    Interreflection& operator=(Interreflection&&) noexcept;

    // True when nothing in the enclosure reflects: every answer is then zero.
    bool dark() const;

    // Listed points: final gathering, one exact direct evaluation at every place a gather ray meets, plus the
    // patch's further bounces. `rays` are spread over the whole sphere; those that bring nothing are left
    // out. The point must lie within the box.
    std::vector<IndirectPacket> gather(int lamp, const scene::Vec3& point, int rays = 2048) const;

    // Grids: probes around these points, interpolated; error stated in bench/README.md. `worth` is what the lamp's
    // light in each band counts for the quantity. May be called from several threads.
    std::vector<IndirectProbe> probes(int lamp, const Bands& worth,
                                      std::span<const scene::Vec3> points) const;

    // The same room with other lamps, or the same ones moved or changed: their direct light is distributed
    // again over the form factors of before. Walls, furniture, screens and foliage must be the same. The
    // lamps' bodies and the fine cells behind them stay where they were, which costs about one part in a
    // hundred of the reflected light. `same[lamp]` is the number a lamp had here whose light has not changed, or -1;
    // what that light did is taken over.
    Interreflection relit(const DirectOnSurfaces& direct, std::span<const int> same) const;

    int patches() const;
    int iterations() const;  // reflections followed

  private:
    struct State;
    explicit Interreflection(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace dapple::light
