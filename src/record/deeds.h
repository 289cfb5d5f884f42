// What keepers do that touches several things at once; each all or none.
#pragma once

#include <string>
#include <vector>

#include "record/store.h"

namespace dapple::record {

// What a deed has in common with a write: the revision seen of the thing it is about, the key, the reason.
struct How {
    std::int64_t seen;
    std::string key = {};
    std::string why = {};
};

struct Done {
    Thing thing;  // as it stands now
    Thing event;  // the move, the lamp_event
};

// `to` empty: it left the collection's enclosures (a clinic, another keeper).
Result<Done> move_animal(Store& store, const Actor& actor, const std::string& animal, const std::string& to,
                         const std::string& day, const std::string& note, const How& how);

struct LampPlace {
    std::string enclosure;
    std::string place;  // the lamp's id in the enclosure's document; may be empty
};
// Installs a lamp from store, or moves one that burns elsewhere.
Result<Done> place_lamp(Store& store, const Actor& actor, const std::string& lamp, const LampPlace& to,
                        const std::string& day, const std::string& note, const How& how);
// Back into store; its hours are kept.
Result<Done> remove_lamp(Store& store, const Actor& actor, const std::string& lamp, const std::string& day,
                         const std::string& note, const How& how);
// For good: thrown away, broken.
Result<Done> retire_lamp(Store& store, const Actor& actor, const std::string& lamp, const std::string& day,
                         const std::string& note, const How& how);

struct Replaced {
    Done old_lamp;
    Done new_lamp;
};
// The old one retires, the new one (from store, by id) takes its place.
Result<Replaced> replace_lamp(Store& store, const Actor& actor, const std::string& old_lamp,
                              const std::string& new_lamp, const std::string& day, const How& old_how,
                              std::int64_t new_seen);

// Hours a lamp has burned by the end of `day`: what it had when it came, plus its hours a day for every day it stood in an
// enclosure.
Result<double> lamp_hours(const Store& store, const std::string& lamp, const std::string& day);

// The task is done; a fix's changed document becomes the enclosure's next revision if `apply`.
Result<Thing> settle_task(Store& store, const Actor& actor, const std::string& task, bool apply,
                          const How& how);

}  // namespace dapple::record
