// Enclosures with one constructed fault each, for the search to find.
#pragma once

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "scene/document.h"

namespace dapple::tests {

inline scene::Enclosure parse(const nlohmann::json& document) {
    auto enclosure = scene::parse_enclosure(document.dump());
    if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
    return *enclosure;
}

// A black box of 120 x 60 x 60 cm: a UV tube and a heat lamp above a flat stone, a shelter at the right end whose
// inside is dark. The animal basks at 2.9 to 7.4 UVI (given by the document, so that no species sheet decides).
inline nlohmann::json pen() {
    return nlohmann::json::parse(R"({
      "format": "dapple/enclosure@1", "id": "pen", "size_cm": [120, 60, 60],
      "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4, "climbs": false, "band": [2.9, 7.4]}],
      "lamps": [
        {"id": "uv", "name": "UV tube", "kind": "tube", "length_cm": 40, "diameter_cm": 1.6,
         "centre_cm": [30, 30, 56], "along": [1, 0, 0], "aim": [0, 0, -1], "spectrum": "fluorescent_uvb_strong",
         "output": {"uvi": 5.5, "at_cm": 30}, "power_w": 24}],
      "furniture": [
        {"id": "stone", "name": "Flat stone", "shape": "box", "min_cm": [20, 20, 0], "max_cm": [40, 40, 20],
         "material": "slate", "perch": true},
        {"id": "roof", "name": "Shelter", "shape": "box", "min_cm": [80, 2, 12], "max_cm": [119, 58, 14],
         "material": "bark"}],
      "spots": [
        {"id": "bask", "name": "Flat stone", "position_cm": [30, 30, 20], "role": "bask"},
        {"id": "cool", "name": "Cool end", "position_cm": [105, 30, 0], "role": "retreat"}]
    })");
}

}  // namespace dapple::tests
