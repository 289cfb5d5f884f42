// The kinds of things the record keeps, each with its fields. This table drives everything that treats all kinds alike:
// checking what comes in, storing, the JSON that goes out, history, export, and moving between databases.
//
//   site        a place with its own people and collection
//   room        of a site
//   enclosure   its document (contract.md), whose `id` is the enclosure's own id in the record
//   file        what a document names beside itself: OBJ, IES, CSV, as text
//   animal      and the enclosure it lives in
//   move        an animal went from one enclosure to another; written with the animal (deeds.h)
//   lamp        bought, standing somewhere or in store; `place` is the id of the lamp in the enclosure's document
//   lamp_event  a lamp was bought, installed, moved, removed or retired (deeds.h)
//   meter       a UV-index meter, a thermometer or the like
//   calibration of a meter: true value = reading x factor + offset
//   survey      a round of readings in one enclosure
//   reading     one value at a spot, or at a point
//   task        something to do; a fix that was accepted is a task with its changed document
//   note        on anything
//   person      somebody who may sign in (people.h keeps the password)
//   membership  what a person may do at a site
//
// Lengths are cm, temperatures degrees Celsius, hours h, power W; a reading's value is in its quantity's own unit
// (spectrum/quantity.h), "temperature" in degrees Celsius.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"

namespace dapple::record {

enum class FieldType {
    text,
    number,     // finite
    integer,    // whole, to 2^53
    day,        // "2026-03-01"
    moment,     // ISO 8601; stored in UTC (moment.h)
    document,   // a JSON object
    reference,  // the id of a thing of kind `of`, at the same site
};

struct Field {
    std::string_view name;  // in JSON, in the database and at the head of an exported column
    FieldType type = FieldType::text;
    bool required = false;
    std::string_view of = {};                    // of a reference
    std::vector<std::string_view> allowed = {};  // of a text; empty: any
    double least = -1e15;                        // of a number or integer
    double most = 1e15;
    std::size_t longest = 500;    // of a text or document, bytes
    std::string_view about = {};  // one sentence for the API's description
};

struct Kind {
    std::string_view name;    // "lamp"
    std::string_view plural;  // "lamps": its table, its file in an export, its address in the API
    bool has_site;            // false: people only
    std::string_view dated;   // the field by which it is listed; empty: by id
    std::string_view about;
    std::vector<Field> fields;

    const Field* field(std::string_view name) const;  // null: none
};

// In an order in which each refers only to those before it.
const std::vector<Kind>& kinds();
const Kind* kind_named(std::string_view name);  // "lamp" or "lamps"; null: none

// The fields as they will be stored (moments in UTC, whole numbers as integers, nulls left out), or every fault, each at
// its JSON pointer below `place`. Unknown fields are faults. References are looked at only for their form here.
Expected<nlohmann::json> checked(const Kind& kind, const nlohmann::json& fields,
                                 const std::string& place = {});

}  // namespace dapple::record
