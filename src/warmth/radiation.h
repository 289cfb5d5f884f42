// Heat radiation. Kelvin, W/m2.
#pragma once

namespace dapple::warmth {

inline constexpr double stefan_boltzmann = 5.670374419e-8;  // W/m2/K4, SI 2019 (CODATA 2018)

double black_emittance(double kelvin);

// h_r = 4 eps sigma T^3 (Incropera & DeWitt, eq. 1.9 for small differences), W/m2/K.
double linear_radiation(double emissivity, double kelvin);

// Between two large parallel plates, from the first to the second (Incropera & DeWitt, table 13.3).
double between_plates(double kelvin_1, double kelvin_2, double emissivity_1, double emissivity_2);

// The share of a black body's radiation at wavelengths below `nm` (Incropera & DeWitt, eq. 12.28), by the series
// 15/pi^4 sum exp(-n x) (x^3/n + 3x^2/n^2 + 6x/n^3 + 6/n^4), x = c2 / (lambda T) (Siegel & Howell). To 1e-9.
double black_share_below(double nm, double kelvin);

}  // namespace dapple::warmth
