// Fixes: real changes to an enclosure, each with what the meter will read after it.
//
// Search over single changes (raise or lower a perch, move a lamp, swap two lamps' places, take out a
// screen), each re-evaluated exactly; clearances and collisions respected. A fix that makes any part of any
// animal's verdict worse is either dropped or says so in its words.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::advice {

// One change to a document, as a person would do it.
struct Change {
    enum class Kind { move_furniture, move_lamp, swap_lamps, remove_screen };
    Kind kind;
    std::string id;                        // the thing changed
    std::string other;                     // the second lamp of a swap
    scene::Vec3 by = scene::Vec3::Zero();  // m; spots that stand on moved furniture move with it
};

struct Fix {
    std::string words;  // "Raise the flat stone 6 cm: Flat stone 3.1 -> 4.9 UVI"
    double effort;      // minutes of a keeper's work, by Effort
    std::vector<Change> changes;
    scene::Enclosure enclosure;  // the changed enclosure
    husbandry::Judgement before;
    husbandry::Judgement after;
};

// What each change costs a keeper, in minutes; our judgement, adjustable.
struct Effort {
    double move_furniture = 3;
    double move_lamp = 15;
    double swap_lamps = 10;
    double remove_screen = 5;
    double per_cm = 0.1;
};

struct FixOptions {
    Effort effort = {};
    double lamp_to_animal = 0.15;  // m, least distance of a lamp's surface to any reach point
    std::size_t most = 8;
    husbandry::JudgeOptions judge = {};
};

// The enclosure after a change, or nothing where it would collide, leave the box or come too close.
std::optional<scene::Enclosure> apply(const scene::Enclosure& enclosure, const Change& change,
                                      const FixOptions& options = {});

// Cheapest first; empty when everything holds already or nothing helps.
Expected<std::vector<Fix>> find_fixes(const scene::Enclosure& enclosure, const FixOptions& options = {});

nlohmann::json to_json(const std::vector<Fix>& fixes);  // contract.md, `fix --json`

}  // namespace dapple::advice
