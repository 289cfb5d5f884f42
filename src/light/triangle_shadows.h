// Shadows of furniture that is a triangle mesh, by ray casting (Embree 3). Bodies with a formula need none of this.
#pragma once

#include <memory>
#include <span>

#include "light/kernel.h"
#include "scene/enclosure.h"

namespace dapple::light {

class TriangleShadows {
  public:
    // Nothing when the enclosure has no triangle mesh.
    static std::unique_ptr<TriangleShadows> of(const scene::Enclosure& enclosure);
    ~TriangleShadows();
    TriangleShadows(const TriangleShadows&) = delete;
    TriangleShadows& operator=(const TriangleShadows&) = delete;

    // Bounding box of all meshes.
    const scene::Box& bounds() const;

    bool hidden(const scene::Vec3& from, const scene::Vec3& to) const;

    // Sixteen coherent rays from one point at a time: hidden[i] for to[i].
    void hidden(const scene::Vec3& from, std::span<const scene::Vec3> to, std::span<bool> hidden) const;

    // The same for the vector kernel.
    KernelMeshes for_kernel() const;

  private:
    TriangleShadows();
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace dapple::light
