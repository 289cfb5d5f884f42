// An enclosure as the vector kernel wants it: bodies, screens, leaves and lamps as plain single-precision structures.
#pragma once

#include <memory>
#include <vector>

#include "light/kernel.h"
#include "light/panes.h"
#include "scene/enclosure.h"

namespace dapple::light {

struct CompiledScene {
    explicit CompiledScene(const scene::Enclosure& enclosure);

    // False where there are more bodies or dimmers than the kernel holds.
    bool kernel_can_follow() const;

    // What stands in the way of that lamp's light: walls too, when it reaches beyond the box. `with_tables` are the
    // screens with the pane tables of the wanted quantity. The view points into this object and `with_tables`.
    KernelScene view(const KernelLamp& lamp, const std::vector<KernelScreen>& with_tables) const;

    scene::Vec3 size;
    std::vector<BodyOf<float>> furniture;
    std::vector<BodyOf<float>> furniture_and_walls;  // starts with all of `furniture`
    std::vector<int> body_of_furniture;              // index into furniture, -1 for a triangle mesh
    std::vector<KernelScreen> screens;
    std::vector<KernelFoliage> foliage;
    std::vector<KernelLamp> lamps;
    std::vector<std::shared_ptr<const std::vector<float>>> lobes;  // that lamps point to
    bool triangles = false;
};

// The left or right half of a tube: its light comes from about one direction.
KernelLamp half_of(KernelLamp lamp, int part);

// By pane, the transmittance of the light `weighted` at each step of the cosine (kernel.h).
std::vector<std::vector<float>> pane_tables(const Panes& panes, const spectrum::Spectrum& weighted);

}  // namespace dapple::light
