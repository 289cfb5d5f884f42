// The temperature of a surface under a lamp, by its own balance:
//
//   absorbed = h_c (Ts - Ta) + eps sigma (Ts^4 - Tr^4) + G (Ts - Tg)
//
// h_c by the correlations of convection.h; Tr the enclosure's radiant mean; G conduction into what the surface is made
// of, towards a ground at Tg:
//   floor, wall  through its thickness to the room (balance.h)
//   stone, box   a fin of its height with the outline of its top, losing from its sides and standing on the floor
//                (Incropera & DeWitt, table 3.4, case A)
//   branch       across to its underside
// The whole top counts as lit like the place itself; a lamp's pool smaller than the stone is cooler than computed.
#pragma once

#include <optional>
#include <vector>

#include "light/body.h"
#include "scene/enclosure.h"
#include "warmth/balance.h"
#include "warmth/convection.h"

namespace dapple::warmth {

// What an animal stands on, as heat finds it.
struct Ground {
    int furniture = -1;                     // its index, or -1: a wall or the floor
    scene::Face face = scene::Face::floor;  // where furniture is -1
    Side side = Side::up;
    double length = 0.1;  // m, for convection
    double emissivity = 0.9;
    double conductance = 0;  // W/m2/K into the material
    bool to_room = false;    // Tg is the room's air; else the lower air
};

// The grounds of an enclosure: one for each wall, in the order of scene::faces, then one for each piece of furniture.
class Grounds {
  public:
    explicit Grounds(const scene::Enclosure& enclosure);

    std::size_t size() const { return grounds_.size(); }
    const Ground& operator[](std::size_t i) const { return grounds_[i]; }
    auto begin() const { return grounds_.begin(); }
    auto end() const { return grounds_.end(); }

    // Index of what lies under a place: the nearest piece within 1 cm, else the nearest wall.
    std::size_t under(const scene::Vec3& feet) const;

  private:
    scene::Vec3 size_;
    std::vector<light::Body> bodies_;
    std::vector<Ground> grounds_;
};

struct Around {
    double air_k;
    double radiant_k;
    double ground_k;
};

// Kelvin. `absorbed` in W/m2. Newton's method on a falling function; to 1e-4 K. It starts at `near`, where that is given:
// at a neighbour's temperature it is done in half the steps.
double surface_k(double absorbed, const Ground& ground, const Around& around, const Assumptions& assumptions,
                 std::optional<double> near = std::nullopt);

// absorbed - lost at that temperature, W/m2.
double surplus(double kelvin, double absorbed, const Ground& ground, const Around& around,
               const Assumptions& assumptions);

}  // namespace dapple::warmth
