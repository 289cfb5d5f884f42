// One write, step by step: checked before it queues, then carried out in the writer's transaction. For this folder only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/connection.h"
#include "record/store.h"

namespace dapple::record {

// A write whose form is right; what it refers to is looked at when it is carried out.
struct Prepared {
    const Kind* kind;
    Write write;          // with `fields` as they will be stored
    std::string request;  // digest of what was asked, to know a reused key by
};

Result<Prepared> prepared(const Write& write);

// Files that documents of a site name: those of the record, else StoreOptions::read_file.
scene::FileReader file_reader(const Store& store, const std::string& site);

// A document that the engine can read; the files it names may come with it, `before` it in the same set of writes.
Result<void> document_checked(const Store& store, const Prepared& prepared,
                              const std::vector<Prepared>& before = {});

// Refused: nothing was written.
Result<Thing> carry_out(Connection& connection, const StoreOptions& options, const std::string& person,
                        const Prepared& prepared);

// What a write with this key was answered; nothing: none came.
std::optional<Thing> answered(Connection& connection, const std::string& person, const std::string& key);

// BLAKE2b in hexadecimal.
std::string digest_of(const std::string& bytes);

}  // namespace dapple::record
