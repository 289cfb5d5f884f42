// What the demo's meters showed. A survey of the story says when, where and with which meters; each value follows from the
// computed field at the place, every lamp faded as it truly was that day, the enclosure's own dimming, the meter's
// error and scatter.
//
//   {"enclosure": id, "at": "09:40", "days_ago": [361, 330, ...],
//    "with": [{"meter": id, "values": 4, "spots": [spot id, ...], "points_cm": [[x, y, z], ...]}],
//    "spoiled": [{"days_ago": 12, "spot": id, "lets_through": 0.3}]}       a leaf lay over the sensor
//
// A meter's truth: "shows", its reading of a true 1; "scatter", relative; "floor" and "step", in its own unit.
#pragma once

#include <vector>

#include "record/store.h"
#include "server/demo_story.h"

namespace dapple::server {

// The surveys and readings of an enclosure's part of the story, the oldest first. `part` is its place in the story: it
// keeps the scatter of one part from changing with another.
Expected<std::vector<record::Write>> demo_readings(const DemoStory& story, std::size_t part,
                                                   inference::Day today);

}  // namespace dapple::server
