// What would the meter read if? Direct light at a few receivers, evaluated again and again while one lamp or one piece of
// furniture moves: the inner loop of the search for fixes. Nothing is allocated and nothing but the changed part is
// computed again.
//
// Readings are of an aimed meter, each lamp's light taken as coming from one direction, a tube's width as two strips
// and a disc as five chords: right to about 1 % where no shadow's edge lies along a tube, and to a quarter of that
// tube's light where one does. Light reflected from walls is
// not in them; add it from a Field of the unchanged room, where a small move changes it little.
#pragma once

#include <span>
#include <vector>

#include "light/aim.h"
#include "light/compiled.h"
#include "light/fast_direct.h"
#include "scene/enclosure.h"
#include "spectrum/quantity.h"

namespace dapple::light {

class WhatIf {
  public:
    // Follows lamps the kernel can follow (see FastDirect); `able` says whether it can follow all of them.
    WhatIf(const scene::Enclosure& enclosure, std::span<const scene::Vec3> receivers,
           spectrum::Quantity quantity);

    bool able() const { return able_; }

    // Readings as things stand, then with lamp `lamp` moved, or with convex furniture `piece` (its index in the
    // enclosure) moved together with the receivers for which `carried` is set. The result is valid until the next call.
    std::span<const double> readings();
    std::span<const double> with_lamp_at(int lamp, const scene::Vec3& centre);
    std::span<const double> with_furniture_moved(int piece, const scene::Vec3& by,
                                                 std::span<const bool> carried);

  private:
    struct LampLight {  // flux of a lamp at each receiver, at unit strength
        std::vector<float> x, y, z;
    };
    void compute(std::size_t lamp, const KernelLamp& shape, const PointSet& points, LampLight& into);
    std::span<const double> turn();

    KernelFunction kernel_ = best_kernel();
    std::vector<scene::Vec3> receivers_;
    PointSet points_;
    PointSet moved_points_;
    CompiledScene scene_;
    std::vector<std::vector<std::vector<float>>> tables_;  // by lamp, by pane
    std::vector<std::vector<KernelScreen>> screens_;       // by lamp
    std::vector<double> scale_;
    std::vector<LampLight> light_;    // by lamp
    std::vector<LampLight> changed_;  // scratch of the same shape
    std::vector<const LampLight*> shown_;
    std::vector<Beam> beams_;
    std::vector<scene::Vec3> lamp_flux_;
    std::vector<double> readings_;
    bool able_ = true;
};

}  // namespace dapple::light
