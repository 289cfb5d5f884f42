// Species sheets: what an animal wants, with the source of every value and how far it can be trusted.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "husbandry/zone.h"
#include "problem/problem.h"

namespace dapple::husbandry {

using Range = std::pair<double, double>;

struct Provenance {
    std::string source;      // a citation in words, or that it is from memory, or how it was estimated
    std::string confidence;  // high, medium, low
};

struct Species {
    std::string id;  // scientific name in lower case with underscores
    std::string scientific_name;
    std::string group;  // snakes, lizards, chelonians, crocodilians, frogs, salamanders
    std::string family;
    std::vector<std::string> synonyms;
    std::vector<std::string> common_names;
    std::vector<int> zones;  // one, or two adjacent; empty: unknown
    double back_height = 0;  // m above the feet; 0: unknown
    bool climbs = false;
    std::string habit;
    std::string activity;
    std::string habitat;
    std::optional<Range> basking_surface_c;
    std::optional<Range> air_warm_c;
    std::optional<Range> air_cool_c;
    std::optional<Range> night_c;
    std::string photoperiod;
    std::string note;
    std::map<std::string, Provenance> sources;  // by field name of the document
    bool estimate = false;                      // true: nobody listed it; every value was estimated
};

// The shipped library, by scientific name.
const std::vector<Species>& species_library();

// By id; a synonym written as an id finds its species too.
const Species* find_species(std::string_view id);

// Best match first: ids, scientific names, synonyms and common names, word order and typing errors forgiven.
// Words that name no listed species but look like a scientific name bring an estimate as the first answer.
std::vector<Species> search_species(const std::string& words, std::size_t most = 10);

// A sheet for a species nobody listed, from its nearest listed relatives (genus, else family named in
// `hints`) and habits; always marked as an estimate, with the relatives named in its sources. Nothing when no
// relative is known.
struct Hints {
    std::string family;
    std::string habit;
    std::string activity;
};
std::optional<Species> estimate_species(const std::string& scientific_name, const Hints& hints = {});

// "Uromastyx ocellata" of "uromastyx_ocellata".
std::string scientific_name_of(std::string_view id);

// The species object of an enclosure document or a sheet of the library: same fields. Only `id` is required;
// what is left out or null is unknown. `place` is the object's JSON pointer, put before the pointers of its
// faults.
Expected<Species> parse_species(std::string_view json, const std::string& file, const std::string& place);

nlohmann::json to_json(const Species& species);  // contract.md, `species --json`

}  // namespace dapple::husbandry
