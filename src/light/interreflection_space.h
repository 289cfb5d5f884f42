// The space between the surfaces of an enclosure: where a ray ends, and what is left of it there.
//
// Walls are met by the enclosure's box, furniture by Embree. Screens and leaves weaken a ray, the bodies of
// lamps end it: a tube and a coil are cylinders of their diameter, a spot is a disc of its own; a lamp
// without a diameter and a bar stop nothing. A ray through an open or black wall is lost.
#pragma once

#include <vector>

#include "light/attenuation.h"
#include "light/bands.h"
#include "light/patches.h"
#include "scene/enclosure.h"

namespace dapple::light {

struct Meeting {
    int patch = -1;  // what the ray ends on; -1: nothing that reflects, the rest is meaningless
    scene::Vec3 point;
    scene::Vec3 normal;  // to the side from which the ray came
    Bands through;       // share that arrives
};

class Space {
  public:
    Space(const scene::Enclosure& enclosure, const Patches& patches);

    // `origin` within the box.
    Meeting follow(const scene::Vec3& origin, const scene::Vec3& direction) const;

    // Whether anything in the way treats wavelengths differently.
    bool colours_light() const { return !panes_.empty(); }

  private:
    struct Pane {
        scene::Screen screen;
        PaneTable table;
    };
    struct Disc {
        scene::Vec3 centre;
        scene::Vec3 normal;
        double radius;
    };
    bool meets_lamp(const scene::Vec3& origin, const scene::Vec3& direction, double reach) const;
    Bands transmittance(const scene::Vec3& from, const scene::Vec3& to, const scene::Vec3& direction) const;

    const Patches& patches_;
    std::vector<Body> tubes_;
    std::vector<Disc> discs_;
    std::vector<scene::Screen> gray_screens_;
    std::vector<Pane> panes_;
    std::vector<scene::Foliage> foliage_;
};

}  // namespace dapple::light
