#include "warmth/radiation.h"

#include <cmath>
#include <numbers>

namespace dapple::warmth {

double black_emittance(double kelvin) {
    return stefan_boltzmann * kelvin * kelvin * kelvin * kelvin;
}

double linear_radiation(double emissivity, double kelvin) {
    return 4 * emissivity * stefan_boltzmann * kelvin * kelvin * kelvin;
}

double between_plates(double kelvin_1, double kelvin_2, double emissivity_1, double emissivity_2) {
    return (black_emittance(kelvin_1) - black_emittance(kelvin_2)) /
           (1 / emissivity_1 + 1 / emissivity_2 - 1);
}

double black_share_below(double nm, double kelvin) {
    constexpr double c2_nm_k = 1.438776877e7;  // second radiation constant, SI 2019
    const double x = c2_nm_k / (nm * kelvin);
    double sum = 0;
    for (int n = 1; n <= 400; ++n) {
        const double term = std::exp(-n * x) * (x * x * x / n + 3 * x * x / (n * n) + 6 * x / std::pow(n, 3) +
                                                6 / std::pow(n, 4));
        sum += term;
        if (term < 1e-12) break;
    }
    return 15 / std::pow(std::numbers::pi, 4) * sum;
}

}  // namespace dapple::warmth
