// The library of generic lamps: kinds, lengths and strengths that are sold everywhere, for lamps that are to be bought.
// Files of data/lamps, "format": "dapple/lamps@1"; each lamp is written as in an enclosure document, without id and
// place, with the least distance to keep from an animal, whether it can be dimmed, and where the numbers come from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::advice {

struct LampModel {
    std::string id;
    std::string name;      // as it follows "a"
    scene::Lamp lamp;      // looks down, lies along x
    double safe_distance;  // m, from its surface to the animal
    bool uv;
    bool heat;
    bool dims;
    bool synthetic;
    std::string source;
    std::string confidence;
};

const std::vector<LampModel>& lamp_models();
const LampModel* find_lamp_model(std::string_view id);
Expected<std::vector<LampModel>> parse_lamp_models(std::string_view json, const std::string& file);

// Whether a document's lamp gives ultraviolet, or warmth, worth speaking of: 0.2 UVI, 50 W/m2, 30 cm before it.
bool gives_uv(const scene::Lamp& lamp);
bool gives_heat(const scene::Lamp& lamp);

// A filament or LEDs can be dimmed, a discharge cannot; told by its spectrum.
bool can_be_dimmed(const scene::Lamp& lamp);

// The least distance for lamps of this spectrum in the library, or `otherwise`.
double safe_distance(const scene::Lamp& lamp, double otherwise);

}  // namespace dapple::advice
