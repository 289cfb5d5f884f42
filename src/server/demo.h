// The demo collection: two rooms and a year in them, told by data/demo/story.json and written into a record as keepers
// would have written it.
#pragma once

#include "inference/life_date.h"
#include "record/store.h"

namespace dapple::server {

// Fills an empty record as of `today`: the story's days are so many days before it. The same story, day and program give
// the same record but for what the record itself adds (ids of readings, when it was written). All or nothing.
record::Result<void> fill_demo(record::Store& store, inference::Day today);

}  // namespace dapple::server
