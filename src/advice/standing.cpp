#include "advice/standing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace dapple::advice {

using husbandry::AnimalJudgement;
using husbandry::Judgement;
using husbandry::Part;
using husbandry::State;
using husbandry::Verdict;

namespace {

// The parts that make up the overall verdict.
constexpr std::array parts = {&Verdict::basking, &Verdict::retreat, &Verdict::ceiling, &Verdict::gradient,
                              &Verdict::together};

constexpr double noticeable = 0.05;  // 5 %, below what a hand-held meter tells apart

bool fails(const Part& part) {
    return part.holds == false;
}

// How far a value lies past a bound, in logarithms above the floor of a hand-held meter.
double past(double value, double bound) {
    constexpr double floor_uvi = 0.05;
    return std::max(0.0, std::log((value + floor_uvi) / (bound + floor_uvi)));
}

double basking_distance(const AnimalJudgement& animal, const Judgement& judgement,
                        const scene::Enclosure& enclosure) {
    double sum = 0;
    for (std::size_t i = 0; i < judgement.spots.size(); ++i) {
        const bool basks = enclosure.spots[i].role == scene::Role::bask;
        if (!basks || !animal.states.contains(judgement.spots[i].id) || !animal.band) continue;
        const double uvi = judgement.spots[i].uvi;
        sum += past(uvi, animal.band->high) + past(animal.band->low, uvi);
    }
    return sum;
}

double quantile(const AnimalJudgement& animal, double share) {
    const auto found = animal.reach.quantiles.find(share);
    return found == animal.reach.quantiles.end() ? 0.0 : found->second;
}

// How far one part of one animal's verdict is from holding. A hole in the gradient and warmth in another
// place have no measure of their own here: they count as failed and no more.
double distance_of(const AnimalJudgement& animal, Part Verdict::*part, const Judgement& judgement,
                   const scene::Enclosure& enclosure) {
    if (!fails(animal.verdict.*part)) return 0;
    if (part == &Verdict::basking) return basking_distance(animal, judgement, enclosure);
    if (part == &Verdict::ceiling && animal.band) return past(quantile(animal, 1), animal.band->ceiling);
    if (part == &Verdict::retreat)
        return quantile(animal, 0) + std::max(0.0, 1 - animal.reach.share_in_shade);
    return 0;
}

// Does a basking spot lie farther outside the band than it did, even where others more than make up for it?
bool a_spot_is_worse(const AnimalJudgement& animal, const Judgement& before, const Judgement& after,
                     const scene::Enclosure& enclosure) {
    for (std::size_t i = 0; i < after.spots.size(); ++i) {
        const bool basks = enclosure.spots[i].role == scene::Role::bask;
        if (!basks || !animal.states.contains(after.spots[i].id) || !animal.band) continue;
        const auto off = [&](double uvi) {
            return past(uvi, animal.band->high) + past(animal.band->low, uvi);
        };
        if (off(after.spots[i].uvi) > off(before.spots[i].uvi) + noticeable) return true;
    }
    return false;
}

// Why a part fails; of basking only the spots that are out of the band.
std::string reason(const AnimalJudgement& animal, Part Verdict::*part, const Judgement& judgement,
                   const scene::Enclosure& enclosure) {
    if (part != &Verdict::basking || !animal.band) return (animal.verdict.*part).why;
    std::string sentence;
    for (std::size_t i = 0; i < judgement.spots.size(); ++i) {
        const auto state = animal.states.find(judgement.spots[i].id);
        if (enclosure.spots[i].role != scene::Role::bask || state == animal.states.end()) continue;
        if (state->second != State::below && state->second != State::above) continue;
        sentence += fmt::format("{}{} reads {:.1f} UVI, {} the band {:g}-{:g}.", sentence.empty() ? "" : " ",
                                judgement.spots[i].name, judgement.spots[i].uvi,
                                husbandry::name(state->second), animal.band->low, animal.band->high);
    }
    return sentence;
}

// Both judgements list the animals of the same document in the same order.
template <class Visit>
void for_each_part(const Judgement& before, const Judgement& after, const Visit& visit) {
    for (std::size_t i = 0; i < std::min(before.animals.size(), after.animals.size()); ++i) {
        for (const auto part : parts) visit(before.animals[i], after.animals[i], part);
    }
}

}  // namespace

Standing standing_of(const Judgement& judgement, const scene::Enclosure& enclosure) {
    Standing standing;
    for (const AnimalJudgement& animal : judgement.animals) {
        for (const auto part : parts) {
            if (part != &Verdict::basking && fails(animal.verdict.*part)) ++standing.failed;
            standing.distance += distance_of(animal, part, judgement, enclosure);
        }
        for (const scene::Place& spot : enclosure.spots) {
            const auto state = animal.states.find(spot.id);
            if (spot.role != scene::Role::bask || state == animal.states.end()) continue;
            if (state->second == State::low || state->second == State::high) ++standing.at_an_end;
            if (state->second == State::below || state->second == State::above) ++standing.failed;
        }
    }
    return standing;
}

std::vector<std::string> worsened(const Judgement& before, const Judgement& after,
                                  const scene::Enclosure& enclosure) {
    std::vector<std::string> sentences;
    for_each_part(before, after, [&](const auto& was, const auto& is, auto part) {
        if (!fails(is.verdict.*part)) return;
        const double more =
            distance_of(is, part, after, enclosure) - distance_of(was, part, before, enclosure);
        const bool one_spot = part == &Verdict::basking && a_spot_is_worse(is, before, after, enclosure);
        if (!fails(was.verdict.*part) || more > noticeable || one_spot)
            sentences.push_back(reason(is, part, after, enclosure));
    });
    return sentences;
}

std::vector<std::string> mended(const Judgement& before, const Judgement& after) {
    std::vector<std::string> sentences;
    for_each_part(before, after, [&](const auto& was, const auto& is, auto part) {
        if (fails(was.verdict.*part) && !fails(is.verdict.*part)) sentences.push_back((is.verdict.*part).why);
    });
    return sentences;
}

std::vector<std::string> still_failing(const Judgement& before, const Judgement& after,
                                       const scene::Enclosure& enclosure) {
    std::vector<std::string> sentences;
    for_each_part(before, after, [&](const auto& was, const auto& is, auto part) {
        if (fails(was.verdict.*part) && fails(is.verdict.*part)) {
            sentences.push_back(reason(is, part, after, enclosure));
        }
    });
    return sentences;
}

}  // namespace dapple::advice
