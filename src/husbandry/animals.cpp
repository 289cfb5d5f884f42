#include <fmt/format.h>

#include <algorithm>

#include "husbandry/names.h"
#include "husbandry/verdict.h"

namespace dapple::husbandry {

namespace {

std::string nearest_species(const std::string& id) {
    std::vector<std::string> ids;
    for (const Species& s : species_library()) ids.push_back(s.id);
    const std::string close = nearest(id, ids);
    return close.empty() ? "an id of the species library, or a species object" : "\"" + close + "\", perhaps";
}

Expected<Species> sheet_of(const scene::Animal& animal, const std::string& place) {
    if (!animal.definition.empty()) return parse_species(animal.definition, "", place);
    if (const Species* listed = find_species(animal.species)) return *listed;
    if (auto estimate = estimate_species(scientific_name_of(animal.species))) return std::move(*estimate);
    return refuse({"", place, "unknown species \"" + animal.species + "\"", nearest_species(animal.species)});
}

// What the document says of this animal stands above its species' sheet.
AnimalJudgement resolved(Species species, const scene::Animal& animal) {
    const Provenance keeper = {"set for this enclosure", "high"};
    if (animal.back_height) {
        species.back_height = *animal.back_height;
        species.sources["back_height_cm"] = keeper;
    }
    if (animal.climbs) {
        species.climbs = *animal.climbs;
        species.sources["climbs"] = keeper;
    }
    if (!animal.zones.empty()) {
        species.zones = animal.zones;
        species.sources["zones"] = keeper;
    }
    AnimalJudgement judgement;
    judgement.band = band_of(species.zones);
    if (animal.band) {
        judgement.band = band_between(animal.band->first, animal.band->second);
        species.sources["band"] = keeper;
    }
    judgement.named = animal.species;
    judgement.count = animal.count;
    judgement.species = std::move(species);
    return judgement;
}

}  // namespace

Expected<std::vector<AnimalJudgement>> resolve_animals(const scene::Enclosure& enclosure) {
    std::vector<AnimalJudgement> animals;
    Problems problems;
    for (std::size_t i = 0; i < enclosure.animals.size(); ++i) {
        const scene::Animal& animal = enclosure.animals[i];
        Expected<Species> species = sheet_of(animal, fmt::format("/animals/{}/species", i));
        if (species) {
            animals.push_back(resolved(std::move(*species), animal));
        } else {
            problems.insert(problems.end(), species.error().begin(), species.error().end());
        }
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return animals;
}

scene::Vec3 reading_point(const scene::Place& spot, const std::vector<AnimalJudgement>& animals) {
    if (spot.height) return spot.position + scene::Vec3(0, 0, *spot.height);
    if (animals.empty()) return spot.position;
    const auto named = std::find_if(animals.begin(), animals.end(), [&](const AnimalJudgement& a) {
        return !spot.animal.empty() && (a.named == spot.animal || a.species.id == spot.animal);
    });
    const AnimalJudgement& animal = named == animals.end() ? animals.front() : *named;
    return spot.position + scene::Vec3(0, 0, animal.species.back_height);
}

}  // namespace dapple::husbandry
