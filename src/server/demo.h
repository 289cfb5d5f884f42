// The demo collection: a year told by a story, written into an empty record.
#pragma once

#include "inference/life_date.h"
#include "record/store.h"

namespace dapple::server {

// Dates of the story count back from `today`.
record::Result<void> fill_demo(record::Store& store, inference::Day today);

}  // namespace dapple::server
