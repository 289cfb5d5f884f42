// Gauss-Legendre rules on [-1, 1] (Abramowitz & Stegun 25.4.29), computed once by Newton's iteration on the
// Legendre polynomial.
#pragma once

#include <vector>

namespace dapple::light {

struct Rule {
    std::vector<double> node;
    std::vector<double> weight;
};

const Rule& gauss_legendre(int points);  // 1..64

}  // namespace dapple::light
