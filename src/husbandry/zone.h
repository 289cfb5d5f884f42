// UV zones 1-4 after Ferguson et al. 2010 (Zoo Biology 29:317-334; numbers from memory) and the band of UVI
// an animal should find where it basks.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace dapple::husbandry {

// UVI. The band is where the animal should bask; nothing it can reach may exceed the ceiling.
struct Band {
    double low;
    double high;
    double ceiling;  // at least `high`; higher only for an animal between two zones
};

// Zone 1: 0-0.7 (common practice, no source); zones 2-4: the range of the highest UVI sought. An animal
// between zones a and a+1 has the band of a with the top of a+1 as its ceiling. Nothing when `zones` is empty
// or names no zone.
std::optional<Band> band_of(const std::vector<int>& zones);

// A band somebody set for this animal: its top is its ceiling.
Band band_between(double low, double high);

// Where a reading lies: the low and the high end are the outer fifths of the band on a logarithmic axis. A
// band that starts at zero has no low end: its axis starts at 0.05 UVI, the floor of a hand-held meter.
enum class State { below, low, in, high, above };
std::string_view name(State state);
State state_of(double uvi, const Band& band);

}  // namespace dapple::husbandry
