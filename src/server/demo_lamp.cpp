#include <algorithm>
#include <cmath>

#include "server/demo_story.h"

namespace dapple::server {

using inference::Day;

double DemoLamp::hours_by(Day day) const {
    double hours = 0;
    for (const Stay& stay : stays) {
        hours += hours_on * std::max(0.0, inference::days_between(stay.from, std::min(day, stay.until)));
    }
    return hours;
}

double DemoLamp::output_on(Day day) const {
    return strength * std::exp(-fades_per_1000h * hours_by(day) / 1000);
}

bool DemoLamp::burns_in(const std::string& enclosure, const std::string& place, Day day) const {
    return std::any_of(stays.begin(), stays.end(), [&](const Stay& stay) {
        return stay.enclosure == enclosure && stay.place == place && stay.from <= day && day < stay.until;
    });
}

}  // namespace dapple::server
