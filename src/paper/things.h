// Things of the record, read whole: what every paper begins with.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "record/store.h"

namespace dapple::paper {

// All that a query finds, page after page.
record::Result<std::vector<record::Thing>> all_things(const record::Store& store, record::Query query);

// In use, at the sites.
record::Result<std::vector<record::Thing>> things_at(const record::Store& store, const std::string& kind,
                                                     const std::vector<std::string>& sites);

// Those given, else every site in use.
record::Result<std::vector<std::string>> sites_or_all(const record::Store& store,
                                                      const std::vector<std::string>& sites);

// The enclosures in use with those ids, all of the sites' where there are none; an id that is none is refused.
record::Result<std::vector<record::Thing>> chosen_enclosures(const record::Store& store,
                                                             const std::vector<std::string>& sites,
                                                             const std::vector<std::string>& ids);

// A text field; empty where it is not set.
std::string field(const record::Thing& thing, const char* name);

// The name in an enclosure's document, else its id.
std::string name_of_enclosure(const record::Thing& enclosure);

// A lamp in words: its model, else its kind, spectrum and power. Lamps that are called the same can stand in for one another.
std::string what_lamp_is(const record::Thing& lamp);

}  // namespace dapple::paper
