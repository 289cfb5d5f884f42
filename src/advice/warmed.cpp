#include "advice/warmed.h"

#include <fmt/format.h>

#include <algorithm>

#include "warmth/warmth.h"

namespace dapple::advice {

namespace {

constexpr double noticeable_k = 2;  // what an infrared thermometer tells apart

double outside(double celsius, const husbandry::Range& wanted) {
    return std::max({0.0, wanted.first - celsius, celsius - wanted.second});
}

std::string sentence(const scene::Place& spot, double was, double is, const husbandry::Species& species) {
    const auto [low, high] = *species.basking_surface_c;
    return fmt::format("the surface of {} goes from about {:.0f} to {:.0f} C, {} the {:g}-{:g} C of {}",
                       spot.name.empty() ? spot.id : spot.name, was, is, is > high ? "above" : "below", low,
                       high, species.scientific_name);
}

}  // namespace

std::vector<std::string> warmed(const scene::Enclosure& before, const scene::Enclosure& after,
                                const std::vector<husbandry::AnimalJudgement>& animals) {
    const auto was = warmth::glance(before);
    const auto is = warmth::glance(after);
    std::vector<std::string> sentences;
    for (std::size_t i = 0; i < std::min(was.size(), is.size()); ++i) {
        const scene::Place& spot = after.spots[i];
        if (spot.role != scene::Role::bask) continue;
        if (std::abs(is[i].surface_c - was[i].surface_c) < noticeable_k) continue;
        for (const husbandry::AnimalJudgement& animal : animals) {
            const bool its_own =
                spot.animal.empty() || spot.animal == animal.named || spot.animal == animal.species.id;
            if (!its_own || !animal.species.basking_surface_c) continue;
            const husbandry::Range wanted = *animal.species.basking_surface_c;
            if (outside(is[i].surface_c, wanted) <= outside(was[i].surface_c, wanted)) continue;
            sentences.push_back(sentence(spot, was[i].surface_c, is[i].surface_c, animal.species));
        }
    }
    return sentences;
}

}  // namespace dapple::advice
