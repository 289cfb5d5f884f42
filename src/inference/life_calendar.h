// Replacing a lamp when it leaves the band, against replacing it every so many months.
#pragma once

#include <optional>

#include "inference/life.h"
#include "inference/life_posterior.h"

namespace dapple::inference {

// The output of one spot, in the posterior's terms, and the limit at which it is out.
struct Limit {
    std::size_t spot;
    double log_value;
    double blur;  // sd in logs
};

// Nothing where the comparison would rest on more than the observed span allows, or the lamp never was in the band.
// By measurement means that readings go on and the lamp is replaced as it leaves the band. By the calendar it is out
// from then to the end of the period; those days are an expectation over the posterior.
std::optional<CalendarComparison> compare_with_calendar(const DecayPosterior& posterior, const Limit& limit,
                                                        const LifeSeries& series, const Leaving& leaving,
                                                        const LifeOptions& options);

}  // namespace dapple::inference
