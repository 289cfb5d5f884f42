// Direct light at listed points, exact: every shadow by its interval on the lamp, every visible piece by Gauss
// quadrature of a smooth integrand. Unobstructed light is right to 1e-9, shadowed light to the fineness with which a
// lamp's width is cut into strips (16) or chords (48): about 1e-3 of the light inside a penumbra.
//
//   tube, coil  Lambertian line: dE = (J0 P / D) cos(alpha) (n.w) dalpha, tan(alpha) = (s - s_foot) / D. Shadows are
//               found on parallel strips across its apparent width; the light leaves from the axis.
//   disc        chords at Gauss-Chebyshev offsets (Abramowitz & Stegun 25.4.40), light L0 cos^k along each
//   point, bar  points of cos^k or of a photometric file
//
// Everything is at unit strength (light/lamp.h).
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "light/body.h"
#include "light/panes.h"
#include "scene/enclosure.h"

namespace dapple::light {

class TriangleShadows;
struct Emission;

// Light from one direction: `weight` is the irradiance it gives a surface that faces it.
struct Sample {
    scene::Vec3 direction;  // unit, from the point to the lamp
    double weight;
    std::vector<PaneCrossing> crossed;
};

// How finely a lamp's width and its shadows are followed.
struct Fineness {
    int strips;  // of a tube, where anything may shade it
    int chords;  // of a disc, where anything may shade it
    int open_chords;
    int rays;  // a strip or chord, among triangle meshes
};
inline constexpr Fineness fine_enough_for_a_point = {16, 48, 16, 64};
inline constexpr Fineness fine_enough_for_a_grid = {4, 12, 6, 32};

class Direct {
  public:
    explicit Direct(const scene::Enclosure& enclosure);
    ~Direct();
    Direct(Direct&&) noexcept;

    Transport planar(int lamp, const scene::Vec3& point, const scene::Vec3& normal,
                     const Fineness& fineness = fine_enough_for_a_point) const;
    Transport back(int lamp, const scene::Vec3& point) const;
    std::vector<Sample> samples(int lamp, const scene::Vec3& point,
                                const Fineness& fineness = fine_enough_for_a_point) const;

    const Panes& panes() const { return panes_; }
    const TriangleShadows* triangles() const { return triangles_.get(); }

  private:
    using Sink =
        std::function<void(const scene::Vec3& direction, double weight, std::span<const PaneCrossing>)>;
    struct View;  // what stands between one point and one lamp

    void visit(int lamp, const scene::Vec3& point, const scene::Vec3* normal, const Fineness& fineness,
               const Sink& sink) const;
    void visit_tube(const View& view, const scene::Tube& tube, const Sink& sink) const;
    void visit_disc(const View& view, const scene::Spot& spot, const Sink& sink) const;
    void visit_points(const View& view, const std::vector<scene::Vec3>& points, const Emission& emission,
                      const Sink& sink) const;
    void deliver(const View& view, const scene::Vec3& source, const scene::Vec3& direction, double weight,
                 const Sink& sink) const;

    const scene::Enclosure& enclosure_;  // outlives this
    std::vector<Body> furniture_;
    std::vector<Body> walls_;
    std::vector<Body> screens_;
    std::vector<Body> foliage_;
    std::unique_ptr<TriangleShadows> triangles_;  // none when no furniture is a triangle mesh
    Panes panes_;
};

}  // namespace dapple::light
