// Why the record did not do what it was asked, sorted by what the asker can do about it. The words for people are in
// `problems`.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "problem/problem.h"

namespace dapple::record {

struct Thing;

enum class Trouble {
    invalid,      // what was given cannot be used
    missing,      // there is no such thing
    conflict,     // somebody changed it since it was seen: `theirs` is how it stands now
    taken,        // the id (or login name) belongs to something else already
    reused_key,   // the idempotency key came with another request before
    unavailable,  // the database cannot be reached now; try again
    full,         // no room left on the disk
    read_only,    // the database cannot be written
    damaged,      // the database failed its integrity check
    too_new,      // the database was written by a later version of the program
};
std::string_view name(Trouble trouble);

struct Refusal {
    Trouble trouble = Trouble::invalid;
    Problems problems = {};
    std::shared_ptr<const Thing> theirs = {};  // of a conflict: the stored version
    std::shared_ptr<const Thing> yours = {};   // of a conflict: what would have been stored
    // The connection was lost while the write was being made safe: it may be stored or not. Sent again with the same
    // idempotency key it is stored once.
    bool unsure = false;
};

template <class T>
using Result = tl::expected<T, Refusal>;

tl::unexpected<Refusal> refuse_as(Trouble trouble, Problem problem);
tl::unexpected<Refusal> refuse_as(Trouble trouble, Problems problems);

}  // namespace dapple::record
