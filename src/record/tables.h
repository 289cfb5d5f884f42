// The database's tables as the migrations made them, for what treats all alike: backup, restore, comparison. For this
// folder only.
#pragma once

#include <string>
#include <vector>

#include "record/connection.h"

namespace dapple::record {

struct Table {
    std::string name;
    std::vector<std::string> columns;
    std::string types;  // of Connection::rows
    std::string order;  // the columns of its key: the same order of rows in both databases

    std::string select() const;
    std::string insert() const;
};

// In an order in which each refers only to those before it. Without the list of versions itself.
std::vector<Table> tables_of(int version);

}  // namespace dapple::record
