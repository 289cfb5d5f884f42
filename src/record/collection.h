// What the collection page shows of every enclosure, in a few queries however large the record is.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "record/store.h"

namespace dapple::record {

struct LatestReading {  // the median of a spot and quantity on the day the enclosure was last read
    std::string spot;
    std::string quantity;
    double value;
    std::string taken_at;
};

struct Card {
    Thing enclosure;        // with its document
    std::string room_name;  // empty: none
    std::vector<Thing> animals;
    int lamps = 0;  // of the record, standing in it
    int open_tasks = 0;
    std::string last_survey;  // day; empty: never
    std::string next_survey;  // day it is due; empty: now
    std::vector<LatestReading> readings;
};

Result<std::vector<Card>> collection(const Store& store, const std::vector<std::string>& sites);

nlohmann::json to_json(const Card& card);

}  // namespace dapple::record
