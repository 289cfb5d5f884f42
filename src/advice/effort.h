// What a change costs a keeper, in minutes of work. All numbers are our judgement, and adjustable by a document:
//     {"format": "dapple/effort@1", "move_lamp": 20, "per_cm": 0.2}
// A change costs what its kind costs, plus `per_cm` for each centimetre it moves something and `per_tenth` for each
// tenth by which it dims or thins; several changes add. What has to be bought is counted as the time of buying it.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "advice/change.h"
#include "problem/problem.h"

namespace dapple::advice {

struct Effort {
    double move_furniture = 3;
    double move_lamp = 15;
    double tilt_lamp = 5;
    double swap_lamps = 10;
    double dim_lamp = 20;  // a dimmer is put in
    double remove_screen = 5;
    double replace_screen = 40;
    double thin_foliage = 5;
    double renew_lamp = 35;
    double replace_lamp = 50;
    double add_lamp = 90;
    double add_shade = 15;
    double per_cm = 0.1;
    double per_tenth = 0.5;
};

double minutes(const Change& change, const Effort& effort);
double minutes(const std::vector<Change>& changes, const Effort& effort);

// Every number at least 0; what is left out keeps its default; unknown fields are faults.
Expected<Effort> parse_effort(std::string_view json, const std::string& file);
nlohmann::json to_json(const Effort& effort);

}  // namespace dapple::advice
