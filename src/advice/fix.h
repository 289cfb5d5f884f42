// Fixes: real changes to an enclosure, each with what the meter will read after it.
//
// The search (docs/decisions/0013) glances at every single change and at pairs of changes, and judges the promising
// ones in full. What makes every part of every animal's verdict hold comes first, cheapest first; then what cures some
// faults and says what remains. A fix that makes any part worse is either dropped or says so in its words.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "advice/change.h"
#include "advice/effort.h"
#include "husbandry/verdict.h"
#include "inference/fit.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::advice {

struct Fix {
    std::string words;  // "Raise the flat stone 6 cm: Flat stone 3.1 -> 4.9 UVI"
    double effort;      // minutes of a keeper's work, by Effort
    std::vector<Change> changes;
    scene::Enclosure enclosure;  // the changed enclosure
    husbandry::Judgement before;
    husbandry::Judgement after;
    double probability = 0;  // that every part holds: 1 or 0 without readings; the least over the animals
    bool on_front = false;   // nothing found is both as cheap and as probable
    std::vector<std::string> remaining = {};  // what still fails, in sentences
    std::vector<std::string> worsened = {};   // what fails, or fails by more, than before
    std::vector<std::string> warmed = {};     // basking places that would overheat or chill, in sentences
};

struct FixOptions {
    Effort effort = {};
    double lamp_to_animal = 0.15;  // m, least distance of a lamp's surface to any reach point
    std::size_t most = 8;
    bool pairs = true;             // two changes at once, where no single one makes everything hold
    bool buy = true;               // lamps of the library too
    std::size_t most_judged = 16;  // in full; the rest of the search is glances
    husbandry::JudgeOptions judge = {};
    std::function<void(const Fix&)> found =
        {};                              // called for each as soon as it was judged, before they are ranked
    std::function<bool()> stopped = {};  // true: nobody waits any more; what was found so far is the answer
};

struct Search {
    std::vector<Fix> fixes;
    husbandry::Judgement before;
    std::size_t glances = 0;  // candidates looked at
    std::size_t places = 0;   // where each was looked at
    std::size_t judged = 0;   // candidates judged in full
};

// The enclosure after a change, or nothing where it would collide, leave the box or come too close.
std::optional<scene::Enclosure> apply(const scene::Enclosure& enclosure, const Change& change,
                                      const FixOptions& options = {});
std::optional<scene::Enclosure> apply(const scene::Enclosure& enclosure, const std::vector<Change>& changes,
                                      const FixOptions& options = {});

// With readings: in the light of the fit, with probabilities and 90 % intervals. Fails where judge does.
Expected<Search> search_fixes(const scene::Enclosure& enclosure, const FixOptions& options = {});
Expected<Search> search_fixes(const inference::Fit& fit, const FixOptions& options = {});

// The fixes alone; empty when everything holds already or nothing helps.
Expected<std::vector<Fix>> find_fixes(const scene::Enclosure& enclosure, const FixOptions& options = {});

// contract.md, `fix --json`; of a search also what was looked at.
nlohmann::json to_json(const std::vector<Fix>& fixes);
nlohmann::json to_json(const Search& search);

}  // namespace dapple::advice
