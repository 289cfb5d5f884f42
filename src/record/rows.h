// Things as rows of their kind's table, and back. For this folder only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/connection.h"
#include "record/kind.h"
#include "record/thing.h"

namespace dapple::record {

// "id, site, revision, made_at, ..., name, note", each with `alias` before it, if given ("e.").
std::string columns_of(const Kind& kind, const std::string& alias = {});
std::string types_of(const Kind& kind);
Thing thing_of(const Kind& kind, const Row& row, std::size_t from = 0);

// A field as a value of its column.
Value value_of(const Field& field, const nlohmann::json& fields);

std::optional<Thing> find_thing(Connection& connection, const Kind& kind, const std::string& id);
// As it stood at a revision; nothing: there was none.
std::optional<Thing> find_version(Connection& connection, const Kind& kind, const std::string& id,
                                  std::int64_t revision);

Command insertion_of(const Kind& kind, const Thing& thing);
// Keeps `before` among the versions and puts `after` in its place.
std::vector<Command> replacement_of(const Kind& kind, const Thing& before, const Thing& after);

// A line of the trail; its seq is the next.
Command line_of(const Change& change);
void note_change(Connection& connection, const Change& change);

std::vector<Change> changes_of(Connection& connection, const std::string& where, const Row& parameters);

}  // namespace dapple::record
