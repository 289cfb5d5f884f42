#include "advice/plan_room.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "scene/document.h"

namespace dapple::advice {

using nlohmann::json;

namespace {

constexpr double unknown_back_cm = 3;

json whole_cm(double x, double y, double z) {
    return {std::round(x), std::round(y), std::round(z)};
}

// The stone lies a third from the left end, the roof at the right one; all in cm.
json document_for(const husbandry::Species& species, const scene::Vec3& size_cm, double stone_cm) {
    const double w = size_cm.x();
    const double d = size_cm.y();
    const double stone_w = std::min(30.0, w / 4);
    const double stone_d = std::min(25.0, d / 2);
    const double roof_w = std::min(30.0, w / 4);
    const double roof_cm = std::max(8.0, std::ceil(250 * species.back_height));
    const double x = 0.3 * w;
    json animal = {{"species", species.id}};
    if (species.back_height <= 0) animal["back_height_cm"] = unknown_back_cm;
    return {{"format", "dapple/enclosure@1"},
            {"id", "plan"},
            {"name", "Plan for " + species.scientific_name},
            {"size_cm", {size_cm.x(), size_cm.y(), size_cm.z()}},
            {"walls",
             {{"floor", "soil"},
              {"left", "float_glass"},
              {"right", "float_glass"},
              {"front", "float_glass"},
              {"back", "float_glass"},
              {"top", "open"}}},
            {"animals", {animal}},
            {"furniture",
             {{{"id", "stone"},
               {"name", "Basking stone"},
               {"shape", "box"},
               {"min_cm", whole_cm(x - stone_w / 2, d / 2 - stone_d / 2, 0)},
               {"max_cm", whole_cm(x + stone_w / 2, d / 2 + stone_d / 2, stone_cm)},
               {"material", "slate"},
               {"perch", true}},
              {{"id", "roof"},
               {"name", "Roof of bark"},
               {"shape", "box"},
               {"min_cm", whole_cm(w - roof_w - 1, 1, roof_cm)},
               {"max_cm", whole_cm(w - 1, d - 1, roof_cm + 2)},
               {"material", "cork_bark"}}}},
            {"spots",
             {{{"id", "bask"},
               {"name", "Basking stone"},
               {"position_cm", whole_cm(x, d / 2, stone_cm)},
               {"role", "bask"}},
              {{"id", "hide"},
               {"name", "Under the roof"},
               {"position_cm", whole_cm(w - roof_w / 2 - 1, d / 2, 0)},
               {"role", "retreat"}}}}};
}

}  // namespace

std::vector<PlannedRoom> rooms_for(const husbandry::Species& species, const scene::Vec3& size,
                                   const Effort& effort) {
    std::vector<PlannedRoom> rooms;
    for (const double stone_cm : {3.0, 8.0, 14.0, 20.0, 28.0, 36.0, 46.0}) {
        constexpr double highest = 0.5;  // of the enclosure's height
        if (stone_cm > 3 && stone_cm > highest * 100 * size.z()) break;
        auto enclosure = scene::parse_enclosure(document_for(species, 100 * size, stone_cm).dump());
        if (!enclosure)
            throw std::logic_error(to_text(enclosure.error()));  // sizes were checked by the caller
        const scene::Vec3 feet = enclosure->spots.front().position;
        const double back = species.back_height > 0 ? species.back_height : unknown_back_cm / 100;
        rooms.push_back({*std::move(enclosure), feet, back,
                         effort.add_shade + effort.move_furniture + effort.per_cm * stone_cm});
    }
    return rooms;
}

}  // namespace dapple::advice
