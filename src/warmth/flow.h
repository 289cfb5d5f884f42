// Air moved by warmth: through openings, through mesh, up a plume. Volume flows in m3/s, differences in K.
#pragma once

namespace dapple::warmth {

// In through one opening and out through an equal one `height` above it: Q = Cd A sqrt(g H dT / T) (ASHRAE Handbook,
// Fundamentals, ventilation: neutral level half-way).
double stack_flow(double area, double height, double difference_k, double kelvin, double discharge = 0.6);

// In and out through one upright opening: Q = (Cd/3) A sqrt(g H dT / T) (Brown & Solvason 1962; Linden 1999, Annu.
// Rev. Fluid Mech. 31:201).
double single_opening_flow(double area, double height, double difference_k, double kelvin,
                           double discharge = 0.6);

// Up and down through one level opening: Q = 0.055 sqrt(g dT/T D^5), D that of a disc of its area (Epstein 1988, J.
// Heat Transfer 110:885, thin openings; from memory).
double level_opening_flow(double area, double difference_k, double kelvin);

// Pressure loss of a woven mesh in velocity heads of the approaching air: K = (1 - o^2)/o^2 (7.125/Re +
// 0.88/lg(Re + 1.25) + 0.055 lg Re), o the open share, Re by wire and approach speed (Brundrett 1993, J. Fluids Eng.
// 115:239; from memory; Re from 1e-2 to 1e4).
double mesh_loss(double open_share, double wire, double speed, double kelvin);

// What is left of a flow through a level opening of that area under a mesh: the driving pressure is shared between the
// opening, which alone lets `flow` through, and two passages of the mesh.
double through_mesh(double flow, double area, double difference_k, double kelvin, double open_share,
                    double wire);

// Air carried by a plume from a small source at `height` above it: Q = 0.14 B^(1/3) z^(5/3), B = g q/(rho cp T) the
// buoyancy of a convected power of `watts` (Morton, Taylor & Turner 1956, Proc. R. Soc. A 234:1, with entrainment 0.1;
// Linden 1999).
double plume_flow(double watts, double height, double kelvin);

}  // namespace dapple::warmth
