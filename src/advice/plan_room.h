// The empty enclosure that is planned for, with a stone of several heights to bask on and a roof to hide under.
#pragma once

#include <vector>

#include "advice/effort.h"
#include "husbandry/species.h"
#include "scene/enclosure.h"

namespace dapple::advice {

struct PlannedRoom {
    scene::Enclosure enclosure;
    scene::Vec3 basking;   // where the feet are
    double back_height;    // m
    double stone_minutes;  // of putting the stone and the roof there
};

std::vector<PlannedRoom> rooms_for(const husbandry::Species& species, const scene::Vec3& size,
                                   const Effort& effort);

}  // namespace dapple::advice
