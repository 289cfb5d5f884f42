// Natural convection: how well air at rest takes heat from a surface.
//
// Everything follows from the Rayleigh number Ra = g beta |Ts - Ta| L^3 / (nu alpha), air properties at the film
// temperature (Ts + Ta) / 2, beta = 1 / Tfilm (ideal gas); then h = Nu(Ra) k / L. Kelvin, metres, W/m2/K.
//
//   vertical plate       Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:1323, eq. 9 (any Ra)
//   hot plate facing up  0.54 Ra^1/4 below Ra = 1e7, 0.15 Ra^1/3 above; L = area / perimeter
//   hot plate down       0.27 Ra^1/4
//                        (McAdams 1954; Lloyd & Moran 1974; Incropera & DeWitt, eq. 9.30-9.32)
//   horizontal cylinder  Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:1049 (Ra < 1e12); L = diameter
//   sphere               Churchill 1983 (Ra < 1e11); L = diameter
//
// A cool plate facing up is a hot one facing down. Stated accuracy of such correlations: 10-20 % (Incropera & DeWitt).
#pragma once

namespace dapple::warmth {

inline constexpr double gravity = 9.81;   // m/s2
inline constexpr double zero_c = 273.15;  // K

struct Air {
    double density;              // kg/m3
    double specific_heat;        // J/kg/K
    double conductivity;         // W/m/K
    double kinematic_viscosity;  // m2/s
    double thermal_diffusivity;  // m2/s
    double prandtl;              // 1
};

// Linear between the rows of Incropera & DeWitt, table A.4 (dry air, 1 atm), 250 to 400 K; held at its ends.
Air air_at(double kelvin);

double rayleigh(const Air& air, double expansion_per_k, double difference_k, double length,
                double gravity_m_s2 = gravity);

double nusselt_vertical(double ra, double prandtl);
double nusselt_vertical_laminar(double ra, double prandtl);  // Ra < 1e9
double nusselt_hot_up(double ra);
double nusselt_hot_down(double ra);
double nusselt_cylinder(double ra, double prandtl);
double nusselt_sphere(double ra, double prandtl);

enum class Side { up, down, vertical, cylinder, sphere };  // which way the warm or cool surface looks

// W/m2/K between a surface and the air around it.
double convection(Side side, double length, double surface_k, double air_k);

}  // namespace dapple::warmth
