// The few operations in which a number and a vector of numbers differ, so that one formula serves both: `double`
// for listed points and xsimd::batch<float> for grids.
#pragma once

#include <cmath>

namespace dapple::light::lanes {

inline double select(bool condition, double a, double b) {
    return condition ? a : b;
}
inline bool any(bool condition) {
    return condition;
}
inline double min(double a, double b) {
    return a < b ? a : b;
}
inline double max(double a, double b) {
    return a > b ? a : b;
}
inline double sqrt(double a) {
    return std::sqrt(a);
}
inline double abs(double a) {
    return std::abs(a);
}
inline double exp(double a) {
    return std::exp(a);
}

}  // namespace dapple::light::lanes
