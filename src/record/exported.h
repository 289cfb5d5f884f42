// A collection as one zip that a person can read without us: README.txt; enclosures/ID.json, the documents as
// `dapple check` takes them; one CSV a kind (lamps.csv, readings.csv, ...), columns named as in kind.h; earlier versions
// and the trail in history.csv and trail.csv. Passwords, sessions and invitations stay behind.
#pragma once

#include <string>
#include <vector>

#include "record/store.h"

namespace dapple::record {

struct ExportReport {
    std::map<std::string, std::int64_t> written;  // by file in the zip
};

// The sites' collections as of one moment; all sites where none is named. Refused where the file exists.
Result<ExportReport> export_zip(const Store& store, const std::string& file,
                                const std::vector<std::string>& sites = {});

// As bytes, for a download.
Result<std::string> export_bytes(const Store& store, const std::vector<std::string>& sites = {});

}  // namespace dapple::record
