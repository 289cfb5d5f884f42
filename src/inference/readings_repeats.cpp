#include "inference/readings_repeats.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace dapple::inference {

namespace {

double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t middle = values.size() / 2;
    return values.size() % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

}  // namespace

Repeats summarise(std::vector<double> values) {
    assert(!values.empty());
    const double centre = median(values);
    if (values.size() < 3) return {centre, 0};
    for (double& value : values) value = std::abs(value - centre);
    return {centre, 1.4826 * median(std::move(values))};
}

}  // namespace dapple::inference
