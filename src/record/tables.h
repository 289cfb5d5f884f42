// Every table of the newest form, as backups and exports walk through them. For this folder only.
#pragma once

#include <string>
#include <vector>

#include "record/connection.h"

namespace dapple::record {

struct Table {
    std::string name;
    std::vector<std::string> columns;
    std::string types;             // as in connection.h
    std::vector<std::size_t> key;  // columns of the primary key
};

// In an order in which each refers only to those before it.
std::vector<Table> tables();

// All rows in the order of their key, some thousands at a time, so that a million of them need no memory. Within a snapshot they
// are those of one moment.
void each_row(Connection& connection, const Table& table, const std::function<void(const Row&)>& visit);

void insert_row(Connection& connection, const Table& table, const Row& row);

// Over rows in their order: the same for the same rows, whatever database they came from.
class RowDigest {
  public:
    RowDigest();
    void add(const Table& table, const Row& row);
    std::string hexadecimal();  // once, at the end

  private:
    void add_bytes(const void* bytes, std::size_t size);
    alignas(64) unsigned char state_[384];  // crypto_generichash_state
};

}  // namespace dapple::record
