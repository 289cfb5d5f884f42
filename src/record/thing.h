// One thing in the record as it stands, its earlier versions, and the trail of what was done to it.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/moment.h"

namespace dapple::record {

struct Thing {
    std::string kind;
    std::string id;
    std::string site;           // empty for people
    std::int64_t revision = 1;  // counts up by one with every write
    Moment made_at;
    std::string made_by;  // a person's id
    Moment changed_at;
    std::string changed_by;
    std::optional<Moment> retired_at;  // no longer in use, or a mistake; kept all the same
    nlohmann::json fields;             // those of kind.h that are set
};

// {"kind","id","site","revision","made":{"at","by"},"changed":{"at","by"},"retired_at"|null, ...fields}
nlohmann::json to_json(const Thing& thing);

enum class Deed { create, change, retire, reinstate, restore };
std::string_view name(Deed deed);
Deed deed_named(std::string_view name);  // of the trail; `change` for a word that is none

struct Version {  // of a thing, with who made it so
    Thing thing;
    Deed deed;
    std::string why;
};
nlohmann::json to_json(const Version& version);

// A line of the audit trail. `seq` counts every deed in the database by one, in the order in which they became
// visible: who has seen up to `seq` has seen all before it.
struct Change {
    std::int64_t seq;
    Moment at;
    std::string by;
    std::string kind;  // of kind.h; or "password", "session", "invitation", "import"
    std::string id;
    std::string site;  // may be empty
    std::int64_t revision;
    std::string deed;  // name(Deed); or what was done, in a word
    std::string why;
};
nlohmann::json to_json(const Change& change);

}  // namespace dapple::record
