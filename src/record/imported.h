// Bringing in what was written elsewhere: first a preview of what will happen, then, if wanted, the deed, all or none.
//
// Readings: a CSV or JSON as inference/readings.h reads it, of any number of enclosures. The same file brought in twice
// adds nothing: each value's id follows from what it says.
// A collection: the zip of exported.h. Ids are kept; what is there already stays as it is.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "record/store.h"

namespace dapple::record {

struct ImportPreview {
    std::map<std::string, std::int64_t> would_add;  // by kind
    std::map<std::string, std::int64_t> there;      // already in the record, by kind
    std::vector<std::string> enclosures;            // touched
    std::string first;                              // of the readings, by date
    std::string last;
    Problems left_out;          // lines that are fine but cannot serve
    Problems faults;            // why nothing can be brought in; empty: it can
    std::vector<Write> writes;  // what apply does
};

// A table's enclosures are looked for at `site`. `file` is its name in messages.
Result<ImportPreview> preview_readings(const Store& store, const std::string& site, std::string_view text,
                                       const std::string& file);
Result<ImportPreview> preview_zip(const Store& store, const std::string& bytes, const std::string& file);

// Answers how many were added. Refused with the preview's faults if it has any.
Result<std::int64_t> apply(Store& store, const Actor& actor, const ImportPreview& preview);

std::string to_text(const ImportPreview& preview);
nlohmann::json to_json(const ImportPreview& preview);

}  // namespace dapple::record
