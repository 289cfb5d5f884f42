// The record's readings of one enclosure as the engine takes them: true by calibration, repeats joined into sets.
// For this folder only.
#pragma once

#include <string>
#include <vector>

#include "inference/readings.h"
#include "paper/meters.h"
#include "record/store.h"
#include "scene/enclosure.h"

namespace dapple::paper {

// Values of one spot or point, quantity, facing and meter in one survey (else on one day) are repeats of one set, dated
// with its first. A spot that the document has no longer leaves the set without a point in it: `nowhere`.
struct KeptSet {
    inference::Reading reading;
    bool nowhere = false;
    bool of_one_lamp = false;  // read with the others off: no light of the enclosure's as it stands
};

// `readings`: things of kind "reading" of this enclosure, in any order. Oldest first.
std::vector<KeptSet> kept_sets(const std::vector<record::Thing>& readings, const scene::Enclosure& enclosure,
                               const Meters& meters);

}  // namespace dapple::paper
