#include "spectrum/wavelength.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace dapple::spectrum {

namespace {

bool finer_than_the_axis(const std::vector<double>& nm) {
    return std::adjacent_find(nm.begin(), nm.end(), [](double a, double b) { return b - a < 1; }) != nm.end();
}

// Replaces each sample whose nanometre the rows of the table divide further by the mean over that nanometre.
void average_where_finer(const std::vector<double>& nm, const std::vector<double>& values, Outside outside,
                         Spectrum& result) {
    Spectrum mean = constant(0);
    Spectrum covered = constant(0);  // share of the nanometre inside the table
    std::vector<bool> finer(samples, false);
    for (std::size_t row = 1; row < nm.size(); ++row) {
        const double slope = (values[row] - values[row - 1]) / (nm[row] - nm[row - 1]);
        const double begin = std::max(nm[row - 1], first_nm - 0.5);
        const double end = std::min(nm[row], last_nm + 0.5);
        if (!(begin < end)) continue;
        const int first = std::clamp(static_cast<int>(std::floor(begin + 0.5)) - first_nm, 0, samples - 1);
        const int last = std::clamp(static_cast<int>(std::floor(end + 0.5)) - first_nm, 0, samples - 1);
        for (int i = first; i <= last; ++i) {
            const double from = std::max(begin, first_nm + i - 0.5);
            const double to = std::min(end, first_nm + i + 0.5);
            if (!(from < to)) continue;
            mean[i] += (to - from) * (values[row - 1] + slope * (0.5 * (from + to) - nm[row - 1]));
            covered[i] += to - from;
            if (nm[row] - nm[row - 1] < 1) finer[i] = true;
        }
    }
    for (int i = 0; i < samples; ++i) {
        if (!finer[i]) continue;
        result[i] = mean[i] + (outside == Outside::nearest ? (1 - covered[i]) * result[i] : 0);
    }
}

Spectrum interpolate(const std::vector<double>& nm, const std::vector<double>& values, Outside outside) {
    assert(nm.size() == values.size() && !nm.empty());
    Spectrum result = constant(0);
    std::size_t next = 0;  // first row beyond the wavelength
    for (int i = 0; i < samples; ++i) {
        const double wavelength = first_nm + i;
        while (next < nm.size() && nm[next] <= wavelength) ++next;
        const bool before = next == 0;
        const bool after = next == nm.size() && wavelength > nm.back();
        if (before || after) {
            if (outside == Outside::nearest) result[i] = before ? values.front() : values.back();
        } else if (next == nm.size()) {
            result[i] = values.back();
        } else {
            const double share = (wavelength - nm[next - 1]) / (nm[next] - nm[next - 1]);
            result[i] = values[next - 1] + share * (values[next] - values[next - 1]);
        }
    }
    if (finer_than_the_axis(nm)) average_where_finer(nm, values, outside, result);
    return result;
}

}  // namespace

Spectrum resample(const std::vector<double>& nm, const std::vector<double>& values, Outside outside) {
    return interpolate(nm, values, outside);
}

Spectrum resample_log(const std::vector<double>& nm, const std::vector<double>& values, Outside outside) {
    std::vector<double> logs(values.size());
    std::transform(values.begin(), values.end(), logs.begin(), [](double value) { return std::log(value); });
    Spectrum result = interpolate(nm, logs, Outside::nearest).exp();
    if (outside == Outside::zero) {
        const int begin = std::clamp(static_cast<int>(std::ceil(nm.front())) - first_nm, 0, samples);
        const int end = std::clamp(static_cast<int>(std::floor(nm.back())) - first_nm + 1, begin, samples);
        result.head(begin) = 0;
        result.tail(samples - end) = 0;
    }
    return result;
}

double integral(const Spectrum& density, int from_nm, int to_nm) {
    const int from = std::max(from_nm, first_nm) - first_nm;
    const int to = std::min(to_nm, last_nm) - first_nm;
    if (to <= from) return 0;
    return density.segment(from, to - from + 1).sum() - 0.5 * (density[from] + density[to]);
}

}  // namespace dapple::spectrum
