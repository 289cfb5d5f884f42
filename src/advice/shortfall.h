// How far an animal's verdict is from holding, part by part, as numbers a search can follow: the same questions as
// husbandry's verdict (engine.md section 5), asked of a sparse sample of reach and answered without words.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "husbandry/verdict.h"

namespace dapple::advice {

// One animal among the places that are looked at: its spots' and its reach's places in that list.
struct Watched {
    std::optional<husbandry::Band> band;
    std::vector<std::size_t> basks;
    std::vector<std::size_t> retreats;
    std::size_t first = 0;     // of its reach
    std::vector<double> area;  // m2, of each place of its reach
};

// What is read at those places.
struct Outlook {
    std::vector<double> uvi;
    std::vector<double> warmth;  // W/m2, facing up
};

struct Shortfall {
    struct Part {
        bool fails = false;
        double distance = 0;  // about how many times ln(what is) is off ln(what is wanted); 0 where it holds
    };
    std::vector<std::array<Part, 5>> animals;  // basking, retreat, ceiling, gradient, together
    std::vector<double> basks;                 // of each basking spot, each animal's in turn
    double edge = 0;                           // how little there is to spare, likewise

    int failed() const;  // parts; of basking every spot
    double distance() const;

    bool agrees_with(const husbandry::Judgement& judgement) const;  // on which parts fail

    // Parts that fail here and held there, or are noticeably farther from holding; basking spots each for itself.
    int worse_than(const Shortfall& before) const;
};

// `margin`: the share of the band, on a logarithmic axis, at either end of which there is too little to spare.
Shortfall shortfall_of(const Outlook& outlook, const std::vector<Watched>& animals,
                       const husbandry::JudgeOptions& options, double margin = 0.1);

}  // namespace dapple::advice
