// What an enclosure's document and its computed field say of a lamp whose life is followed.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "inference/life_series.h"
#include "light/field.h"
#include "scene/enclosure.h"

namespace dapple::inference {

struct LifeSpot {
    std::string name;
    bool bask = false;
    std::optional<double>
        low;            // the UVI at which its animal's band begins; nothing: no animal, or band unknown
    double own = 0;     // what the lamp sends there, by the field
    double others = 0;  // what the other lamps send there
};

struct LifePlace {
    std::string lamp_name;
    LampHistory history;
    std::map<std::string, LifeSpot> spots;  // by id
};

// The index of a lamp by id; refused with the nearest id.
Expected<std::size_t> lamp_index(const scene::Enclosure& enclosure, const LifeReading& reading,
                                 const std::string& file);

// The id of a spot by id or name; refused with the nearest. An empty name is the first bask spot, or the only spot.
Expected<std::string> spot_id(const scene::Enclosure& enclosure, const LifeReading& reading,
                              const std::string& file);

// `field` is the enclosure's. Fails where its animals cannot be resolved.
Expected<LifePlace> life_place(const light::Field& field, std::size_t lamp, spectrum::Quantity quantity);

}  // namespace dapple::inference
