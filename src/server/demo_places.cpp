#include "server/demo_places.h"

#include <algorithm>

#include "warmth/warmth.h"

namespace dapple::server {

using nlohmann::json;

DemoPlaces::DemoPlaces(const scene::Enclosure& enclosure, std::vector<husbandry::AnimalJudgement> animals)
    : enclosure_(&enclosure), animals_(std::move(animals)), field_(enclosure) {}

Expected<DemoPlaces> DemoPlaces::of(const scene::Enclosure& enclosure) {
    auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    return DemoPlaces(enclosure, std::move(*animals));
}

Expected<const scene::Place*> DemoPlaces::spot(const std::string& id) const {
    for (const scene::Place& one : enclosure_->spots) {
        if (one.id == id) return &one;
    }
    return refuse({"data/demo/story.json", "/surveys", "the spot \"" + id + "\"",
                   "one of the document " + enclosure_->id});
}

DemoPlace DemoPlaces::lit_at(json where, const std::string& spot, const scene::Vec3& point) const {
    const light::Arrival arrival = field_.at(point);
    DemoPlace place{std::move(where), spot, {}, 0};
    for (std::size_t lamp = 0; lamp < enclosure_->lamps.size(); ++lamp) {
        place.by_lamp.push_back(arrival.measure(spectrum::Quantity::uvi, static_cast<int>(lamp)));
    }
    return place;
}

Expected<std::vector<DemoPlace>> DemoPlaces::lit(const json& round) const {
    std::vector<DemoPlace> places;
    for (const json& id : round.value("spots", json::array())) {
        const auto found = spot(id);
        if (!found) return tl::unexpected(found.error());
        places.push_back(lit_at({{"spot", id}}, id, husbandry::reading_point(**found, animals_)));
    }
    for (const json& at : round.value("points_cm", json::array())) {
        const scene::Vec3 cm(at.at(0), at.at(1), at.at(2));
        places.push_back(lit_at({{"x_cm", cm.x()}, {"y_cm", cm.y()}, {"z_cm", cm.z()}}, "", cm / 100));
    }
    return places;
}

Expected<std::vector<DemoPlace>> DemoPlaces::warm(const json& round) const {
    std::vector<DemoPlace> places;
    std::vector<warmth::Spot> surfaces;
    for (const json& id : round.at("spots")) {
        const auto found = spot(id);
        if (!found) return tl::unexpected(found.error());
        surfaces.push_back({(*found)->position});
        places.push_back({{{"spot", id}}, id, {}, 0});
    }
    const auto warm = warmth::Warmth(field_, surfaces).at_spots();
    for (std::size_t i = 0; i < places.size(); ++i) places[i].surface_c = warm[i].surface_c;
    return places;
}

}  // namespace dapple::server
