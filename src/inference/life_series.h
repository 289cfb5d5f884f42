// One lamp's readings in order: repeats made one, hours counted, the burn-in left out.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "inference/decay_prior.h"
#include "inference/life_readings.h"

namespace dapple::inference {

// What is known of a lamp without reading it.
struct LampHistory {
    LampKind kind = LampKind::unknown;
    double hours_on = 12;  // a day, above zero
    std::optional<Day> installed = {};
};

struct Survey {          // one value a spot and day
    std::string places;  // "line 3", "lines 3, 4"
    std::string spot;
    double hours;
    double value;
};

struct LifeSeries {
    spectrum::Quantity quantity;
    std::vector<Survey> surveys;  // by hours, at least one
    bool from_new;                // hours count from the new lamp, not from its first reading
    Day day;                      // a day and the lamp's hours on it
    double hours_that_day;
    double hours_a_day;
    std::vector<std::string> notes;  // what was merged or left out, and assumed

    double first_hours() const { return surveys.front().hours; }
    double last_hours() const { return surveys.back().hours; }
    std::optional<Day> day_at(double hours) const;  // nothing: more than a century away
};

// `readings` of one lamp, at least one. Where no reading has a date, the last is taken to be of `today`. Contradictions are
// refused: hours that run backwards or faster than the clock, readings from before the lamp was there, quantities
// mixed.
Expected<LifeSeries> series_of(const std::vector<LifeReading>& readings, const LampHistory& history,
                               Day today, const std::string& file);

}  // namespace dapple::inference
