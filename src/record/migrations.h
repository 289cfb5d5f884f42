// The form of the database, as numbered steps that only go forward. A step that was once released is never changed: a
// database may stand at any of them. No SQL stands anywhere but in this folder.
#pragma once

#include <vector>

#include "record/connection.h"
#include "record/moment.h"
#include "record/refusal.h"

namespace dapple::record {

int newest_version();

// 0: an empty database. Refused: somebody else's database, or one of a later version of the program.
Result<int> version_of(Connection& connection);

// Brings the database to `version` (tests make older ones), all steps or none, within one write transaction; another
// process may be doing the same.
Result<void> migrate(Connection& connection, Moment now, int version = newest_version());

}  // namespace dapple::record
