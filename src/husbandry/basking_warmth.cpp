// Computed basking surfaces held against what a species sheet asks for.
#include <fmt/format.h>

#include "husbandry/judging.h"

namespace dapple::husbandry {

std::string basking_warmth(const Light& light, const std::vector<LitSpot>& spots, const Species& species) {
    if (!light.surface_c || !species.basking_surface_c) return "";
    std::vector<warmth::Spot> surfaces;
    std::vector<const scene::Place*> places;
    for (const LitSpot& spot : spots) {
        if (spot.place->role != scene::Role::bask) continue;
        surfaces.push_back({spot.place->position});
        places.push_back(spot.place);
    }
    if (surfaces.empty()) return "";
    const auto [low, high] = *species.basking_surface_c;
    const std::vector<double> celsius = light.surface_c(surfaces);
    std::string words =
        fmt::format("{} is said to bask on surfaces of {:g}-{:g} C.", species.scientific_name, low, high);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const char* side = celsius[i] < low ? "cooler" : (celsius[i] > high ? "warmer" : "within");
        const std::string& name = places[i]->name.empty() ? places[i]->id : places[i]->name;
        words += fmt::format(" {} is computed at about {:.0f} C, {}.", name, celsius[i], side);
    }
    return words +
           " Measure it; computed warmth may be off by half of its rise above the room and is no thermostat.";
}

}  // namespace dapple::husbandry
