// The shopping list: which lamps to buy, and by when, from the record's own forecasts.
//
// A lamp is wanted by the early end of the 90 % interval of the day it leaves its animals' band: bought by then, it is at
// hand whenever the readings say so. A lamp in store of the same model (else of the same kind, spectrum and power) stands in
// for the first that needs one.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "record/lamp_lives.h"
#include "record/store.h"

namespace dapple::paper {

struct LampNeeded {
    std::string lamp;  // id of the one that burns now
    std::string name;
    std::string what;       // to buy: its model, else its kind, spectrum and power
    std::string enclosure;  // id
    std::string enclosure_name;
    inference::Day by;
    inference::Day leaves;               // the median
    std::optional<inference::Day> late;  // of the interval
    bool beyond_limit = false;           // further ahead than the readings can tell
    std::optional<double> price;         // what the one that burns cost
    std::string spare;                   // name of the lamp in store that will do; empty: buy one
};

struct ShoppingOptions {
    int within_days = 365;  // later ones are left out
};

// By `by`, the first to be needed first.
record::Result<std::vector<LampNeeded>> lamps_needed(const record::Store& store, record::LampLives& lives,
                                                     const std::vector<std::string>& sites,
                                                     inference::Day today,
                                                     const ShoppingOptions& options = {});

nlohmann::json to_json(const std::vector<LampNeeded>& list);
std::string to_text(const std::vector<LampNeeded>& list);  // for the terminal

}  // namespace dapple::paper
