// Animals and the spots they sit at.
#include <fmt/format.h>

#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

constexpr Limits back_height = {0, 200, "cm", true};
constexpr Limits uvi = {0, 100};

std::vector<int> read_zones(Fields& fields) {
    const std::string allowed = "[z] or [z, z + 1] of the UV zones 1 to 4";
    const Json* value = fields.find("zone");
    if (value == nullptr) return {};
    std::vector<int> zones;
    const bool is_list = value->is_array() && !value->empty() && value->size() <= 2;
    for (std::size_t i = 0; is_list && i < value->size(); ++i) {
        const Json& zone = (*value)[i];
        if (zone != 1 && zone != 2 && zone != 3 && zone != 4) break;
        if (!zones.empty() && zone != zones.back() + 1) break;
        zones.push_back(zone.get<int>());
    }
    if (is_list && zones.size() == value->size()) return zones;
    fields.faults().add(fields.place("zone"), quoted(*value), allowed);
    return {};
}

std::optional<std::pair<double, double>> read_band(Fields& fields) {
    const Json* value = fields.find("band");
    if (value == nullptr) return std::nullopt;
    const auto is_uvi = [](const Json& number) {
        return number.is_number() && uvi.hold(number.get<double>());
    };
    if (value->is_array() && value->size() == 2 && is_uvi((*value)[0]) && is_uvi((*value)[1])) {
        const std::pair<double, double> band((*value)[0].get<double>(), (*value)[1].get<double>());
        if (band.first < band.second) return band;
    }
    fields.faults().add(
        fields.place("band"), quoted(*value),
        fmt::format("[low, high]: two UV indices from {} to {}, the low one smaller", uvi.least, uvi.most));
    return std::nullopt;
}

void read_species(Fields& fields, Animal& animal) {
    const std::string allowed = "the name of a species, or an object that defines one";
    const Json* value = fields.need("species", allowed);
    if (value == nullptr) return;
    if (value->is_string() && !value->get_ref<const std::string&>().empty()) {
        animal.species = value->get<std::string>();
    } else if (value->is_object()) {
        const auto id = value->find("id");
        if (id != value->end() && id->is_string() && !id->get_ref<const std::string&>().empty()) {
            animal.species = id->get<std::string>();
            animal.definition = value->dump();
        } else {
            fields.faults().add(below(fields.place("species"), "id"),
                                id == value->end() ? "nothing" : quoted(*id),
                                "the id of the species (required)");
        }
    } else {
        fields.faults().add(fields.place("species"), quoted(*value), allowed);
    }
}

}  // namespace

std::optional<Animal> read_animal(const Json& value, const std::string& place, Faults& faults) {
    Fields fields(value, place, "an animal", faults);
    Animal animal;
    read_species(fields, animal);
    animal.count = fields.whole("count", 1, 10000).value_or(1);
    if (const auto height = fields.number("back_height_cm", back_height))
        animal.back_height = *height * m_per_cm;
    animal.climbs = fields.truth("climbs");
    animal.zones = read_zones(fields);
    animal.band = read_band(fields);
    fields.finish();
    return animal;
}

std::optional<Place> read_spot(const Json& value, const std::string& place, const Context& context,
                               Faults& faults) {
    Fields fields(value, place, "a spot", faults);
    Place spot;
    spot.id = read_id(fields).value_or("");
    spot.name = fields.text("name").value_or(spot.id);
    const auto position = fields.need_three("position_cm", any_cm);
    if (const auto height = fields.number("height_cm", any_size_cm)) spot.height = *height * m_per_cm;
    const auto role = fields.word("role", {"bask", "retreat", "other"});
    if (role) spot.role = *role == "bask" ? Role::bask : *role == "retreat" ? Role::retreat : Role::other;
    spot.animal = fields.text("animal").value_or("");
    fields.finish();
    if (!position) return std::nullopt;
    spot.position = *position * m_per_cm;
    must_lie_inside(spot.position, fields.place("position_cm"), context, faults);
    return spot;
}

}  // namespace dapple::scene
