// A lamp as a source of heat: of its electrical power, what goes with its light, what its hot body radiates all round,
// and what it gives to the air.
//
// Shares by kind (IES Lighting Handbook, lamp energy tables; US DOE 2007, Thermal management of white LEDs; by way of
// reference/checks/heat_checks.csv, from memory): radiated as ultraviolet and visible; as infrared; lost to the air,
// the socket and the ballast. Where a filament's spectrum is cut off at 2500 nm, what lies between there and the end of
// its glass (3000 nm; quartz 3500 nm) follows as for a black body of its temperature. Half of an arc's infrared is
// taken to come from the arc and go with its light, half from its envelope (our judgement).
//
// A measured output decides what goes with the light; `power_w` decides how much there is besides. A lamp without an
// output gives the share of its kind, spread as its shape says.
#pragma once

#include "scene/enclosure.h"

namespace dapple::warmth {

struct HeatShares {
    double visible;        // ultraviolet and visible
    double infrared;       // near and far
    double air;            // convection, conduction, ballast
    double with_light;     // of the infrared: what goes with the light
    double temperature_k;  // of a filament; 0: none
    double glass_to_nm;    // how far its glass lets infrared through
};

// Throws nothing; every kind has its row.
const HeatShares& heat_shares(scene::HeatKind kind);

// As the document says, else by the spectrum's name, else by the lamp's shape.
scene::HeatKind heat_kind(const scene::Lamp& lamp);

// Watts a lamp radiates with a strength of 1 (light/lamp.h) and a relative spectrum that sums to 1, in all directions:
// line pi/2 L integral P(phi); disc and points 2 pi/(k+1); photometric files by quadrature.
double flux_at_unit_strength(const scene::Lamp& lamp);

struct LampHeat {
    scene::HeatKind kind = scene::HeatKind::halogen;
    double with_light = 0;      // W, ultraviolet to infrared, that goes where its light goes
    double per_light = 1;       // with_light over what light::Field knows of it
    double body_radiation = 0;  // W, all round
    double body_air = 0;        // W, to the air about it
    bool by_power = false;      // no output is known: with_light comes from power_w
    bool over_power = false;    // its light alone is more than power_w

    double power() const { return with_light + body_radiation + body_air; }
};

// `infrared` scales what goes with the light beyond what was measured, `body` the body's radiant share: 1 as published.
LampHeat lamp_heat(const scene::Lamp& lamp, double infrared = 1, double body = 1);

// The lamp with an output by which light::Field spreads `with_light`: for lamps without one, and for emitters.
scene::Lamp lit_by_power(const scene::Lamp& lamp);

}  // namespace dapple::warmth
