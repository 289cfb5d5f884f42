#include "light/bands.h"

#include <cassert>

namespace dapple::light {

namespace {

// Samples first .. last of band b. A band owns its lower edge; the last band owns its upper edge, too.
struct Range {
    int first;
    int count;
};

Range samples_of(int band) {
    const auto b = static_cast<std::size_t>(band);
    const int first = band_edges_nm[b] - spectrum::first_nm;
    const int end = band_edges_nm[b + 1] - spectrum::first_nm + (band == bands - 1 ? 1 : 0);
    return {first, end - first};
}

}  // namespace

Bands band_means(const spectrum::Spectrum& s) {
    assert(s.size() == spectrum::samples);
    Bands means;
    for (int b = 0; b < bands; ++b) means[b] = s.segment(samples_of(b).first, samples_of(b).count).mean();
    return means;
}

spectrum::Spectrum staircase(const Bands& values) {
    spectrum::Spectrum s(spectrum::samples);
    for (int b = 0; b < bands; ++b)
        s.segment(samples_of(b).first, samples_of(b).count).setConstant(values[b]);
    return s;
}

}  // namespace dapple::light
