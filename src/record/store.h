// The record: a collection in a database, SQLite in one file or PostgreSQL, behind the same calls.
//
// What is promised: a write that was answered is on the disk, survives the end of the program at any moment, and is
// there once. Nothing is deleted. A write to a thing that somebody changed meanwhile is refused with both versions.
//
// All writes of a process go through one writer, which makes many of them safe with one flush of the disk (group
// commit); reads go beside it through a few connections of their own. Several processes may share one PostgreSQL
// database. Who may do what is not decided here: people.h knows, the caller asks.
//
// Every call may be made from any thread. Trouble with the database is a refusal (refusal.h), never an exception, and
// ends by itself when the database is back.
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "record/chance.h"
#include "record/kind.h"
#include "record/moment.h"
#include "record/refusal.h"
#include "record/thing.h"
#include "scene/document.h"

namespace dapple::record {

class Database;

// Whoever sits at the machine, where no accounts are asked for. Always in the database; cannot sign in.
inline constexpr const char* local_person = "local";

struct StoreOptions {
    std::string database;  // a file, made if it is not there; or postgresql://USER@HOST:PORT/NAME
    Clock clock = system_clock();
    Chance chance = secure_chance();
    int readers = 4;                   // connections for reading
    scene::FileReader read_file = {};  // files that enclosures name and that the record does not hold
    bool check_integrity = true;       // SQLite: look through the whole file at the start
};

// Who writes.
struct Actor {
    std::string person = local_person;
};

struct Write {  // NOLINT(bugprone-exception-escape): JSON's move is noexcept but for a lack of memory
    Deed deed = Deed::create;
    std::string kind;
    std::string id = {};    // create: empty for a new one (an enclosure's is that of its document)
    std::string site = {};  // create: where it belongs; a new site and a person have none
    std::optional<std::int64_t> seen = {};  // the revision the writer saw; needed for all but create
    nlohmann::json fields = {};             // create, change: all of them
    std::int64_t revision = 0;              // restore: the earlier revision to bring back
    std::string key = {};                   // idempotency key of this writer; empty: none
    std::string why = {};                   // for the trail
};

struct Query {
    std::string kind;
    std::optional<std::vector<std::string>> sites = {};  // nothing: all
    std::map<std::string, std::string> equal = {};       // text or reference field -> value; "" is "not set"
    std::string from = {};    // of the kind's dated field, inclusive; as that field is written
    std::string before = {};  // exclusive
    bool retired = false;     // retired ones too
    int limit = 1000;         // at most 10,000
    std::string after = {};   // Page::next of the page before
};

struct Page {
    std::vector<Thing> things;  // newest first by the kind's dated field, else by id from the oldest
    std::string next;           // empty: this was the last
};

struct ChangeQuery {
    std::int64_t after = 0;                              // those with a higher seq
    std::optional<std::vector<std::string>> sites = {};  // nothing: all
    std::string kind = {};                               // empty: all
    std::string id = {};                                 // empty: all
    bool newest_first = false;
    int limit = 1000;
};

class Store {
  public:
    // Opens, brings an older database up to the present form, and checks it.
    static Result<std::unique_ptr<Store>> open(const StoreOptions& options);
    ~Store();
    Store(const Store&) = delete;
    Store& operator=(const Store&) = delete;

    // ---- reading
    Result<Thing> find(const std::string& kind, const std::string& id) const;
    Result<Page> list(const Query& query) const;
    Result<std::vector<Version>> history(const std::string& kind,
                                         const std::string& id) const;  // newest first
    Result<std::vector<Change>> changes(const ChangeQuery& query) const;

    // ---- writing
    // Answered when it is safe. The same key by the same person with the same write answers as the first time did and
    // writes nothing; only writes that succeeded are remembered.
    Result<Thing> write(const Actor& actor, const Write& write);
    // Each for itself, as a phone sends what it gathered offline; answers in the same order.
    std::vector<Result<Thing>> write_each(const Actor& actor, const std::vector<Write>& writes);
    // All or none. A later one may refer to an earlier one, or use its id, if the ids are given.
    Result<std::vector<Thing>> write_all(const Actor& actor, const std::vector<Write>& writes);

    // ---- following
    // The highest seq, once it is above `after` or the time is over; also what other processes wrote.
    Result<std::int64_t> wait_for_change(std::int64_t after, std::chrono::milliseconds most) const;

    // ---- for this folder and its neighbours
    const StoreOptions& options() const;
    Database& database() const;  // record/database.h; not for other folders

  private:
    struct State;
    explicit Store(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace dapple::record
