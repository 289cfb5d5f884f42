#include "light/quadrature.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace dapple::light {

namespace {

constexpr int largest = 64;

Rule make_rule(int n) {
    Rule rule;
    for (int i = 0; i < n; ++i) {
        double x = std::cos(std::numbers::pi * (n - i - 0.25) / (n + 0.5));
        double slope = 1;
        for (int step = 0; step < 50; ++step) {
            double p = 1, before = 0;
            for (int k = 1; k <= n; ++k) {
                const double next = ((2 * k - 1) * x * p - (k - 1) * before) / k;
                before = p;
                p = next;
            }
            slope = n * (x * p - before) / (x * x - 1);
            const double change = p / slope;
            x -= change;
            if (std::abs(change) < 1e-15) break;
        }
        rule.node.push_back(x);
        rule.weight.push_back(2 / ((1 - x * x) * slope * slope));
    }
    return rule;
}

}  // namespace

const Rule& gauss_legendre(int points) {
    static const std::array<Rule, largest + 1> rules = [] {
        std::array<Rule, largest + 1> all;
        for (int n = 1; n <= largest; ++n) all[static_cast<std::size_t>(n)] = make_rule(n);
        return all;
    }();
    return rules[static_cast<std::size_t>(std::clamp(points, 1, largest))];
}

}  // namespace dapple::light
