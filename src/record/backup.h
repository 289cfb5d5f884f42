// Backups: always one SQLite file, whatever the database, holding every row of it. So a backup is also the way from
// SQLite to PostgreSQL and back.
#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "record/store.h"

namespace dapple::record {

struct BackupReport {
    std::string file;
    std::map<std::string, std::int64_t> rows;  // by table
    std::string
        digest;  // BLAKE2b of all rows in order, in hexadecimal: the same for the same record in any database
};

// While the store is in use; the state of one moment. The file is read back and compared before this returns; one that
// failed leaves no file behind. Refused where the file exists.
Result<BackupReport> back_up(const Store& store, const std::string& file);

// Brings a backup (of this or an earlier version) into an empty database, all or none; the result is compared with the
// file. Refused where the database holds anything.
Result<BackupReport> restore(const std::string& file, const StoreOptions& into);

// Every row of the database, as of one moment.
Result<BackupReport> digest(const Store& store);

}  // namespace dapple::record
