// The enclosure as a whole, at rest: two layers of air, eleven inner surfaces, one radiant mean.
//
//   surface    absorbed lamp light = convection to its layer + radiation to the mean + conduction out
//   layer      convection in + lamps' heat + air in = air out; warm floors and furniture send half of theirs up
//   radiation  each surface exchanges eps A sigma (T^4 - Tr^4) with one radiant mean Tr (a star network: Davies 2004,
//              Building Heat Transfer, ch. 6), which also takes what lamps' bodies radiate
//   air        comes in below and leaves above (displacement: Linden 1999, Annu. Rev. Fluid Mech. 31:201), by gaps and
//              by the buoyant flows of flow.h; the layers mix by the plume over the warm surfaces, and at once where
//              the lower one is warmer
//
// Steady, as after hours with the lamps on. Kelvin, W. `closed` says how well the books balance.
#pragma once

#include <array>
#include <vector>

#include "scene/enclosure.h"
#include "warmth/assumptions.h"
#include "warmth/lamp_heat.h"
#include "warmth/where_light_ends.h"

namespace dapple::warmth {

struct Balance {
    double room_k;
    double lower_k;    // air of the lower half
    double upper_k;    // air of the upper half
    double radiant_k;  // what a surface inside exchanges heat radiation with
    std::array<double, surfaces> surface_k;

    double in_w = 0;        // that turns into heat inside
    double walls_w = 0;     // out through walls and floor
    double air_w = 0;       // out with the air
    double radiated_w = 0;  // out through open sides as heat radiation
    double flow = 0;        // m3/s of air exchanged with the room

    double closed() const;  // |in - out| / in; 0 where nothing comes in

    // The air's temperature at a height: level with the layers' middles, linear between.
    double air_k(double height, double enclosure_height) const;
};

// Heat put in, by where it is set free.
struct HeatIn {
    std::array<double, surfaces> surface{};
    double upper_air = 0;
    double lower_air = 0;
    double radiant = 0;
};

// Of all lamps, each turned down to `on` (0 to 1).
HeatIn heat_in(const scene::Enclosure& enclosure, const std::vector<LampHeat>& lamps,
               const std::vector<LightShares>& light, const std::vector<double>& on,
               const Assumptions& assumptions);

Balance balance(const scene::Enclosure& enclosure, const HeatIn& heat, double room_k,
                const Assumptions& assumptions);

// W/m2/K from the inside of a wall to the room: thickness / conductivity + 1 / h outside, h by natural convection on a
// wall of that height plus radiation at emissivity 0.9. Under a floor half of that gets away (our judgement: it stands
// on something). `inside_k` is the wall's inner face.
double wall_conductance(const scene::Enclosure& enclosure, scene::Face face, double inside_k, double room_k);

}  // namespace dapple::warmth
