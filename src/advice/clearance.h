// What a changed enclosure may not do: put things through one another, out of the box, or a lamp too near to
// the animal. Faults the enclosure had before the change are tolerated as long as they do not grow.
#pragma once

#include <vector>

#include "advice/fix.h"
#include "husbandry/verdict.h"

namespace dapple::advice {

// The change carried out, whether or not there is room for it. Nothing where it names a thing that is not
// there.
std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure, const Change& change);

// Does the spot stand on this furniture: does a short drop below its feet end there?
bool stands_on(const scene::Place& spot, const scene::Furniture& furniture);

class Clearances {
  public:
    Clearances(scene::Enclosure before, const FixOptions& options);

    // Is there room for the change, of which `after` is the outcome?
    bool allow(const scene::Enclosure& after, const Change& change) const;

  private:
    struct Stance {  // what decides how an animal moves about
        double back_height;
        bool climbs;
    };

    bool furniture_has_room(const scene::Enclosure& after, const std::string& id) const;
    bool lamp_has_room(const scene::Enclosure& after, const std::string& id, bool carried_straight) const;
    bool spots_stay_free(const scene::Enclosure& after, const std::string& furniture) const;
    bool lamps_keep_their_distance(const scene::Enclosure& after, bool guard_removed) const;
    std::vector<double> nearest_reach(const scene::Enclosure& enclosure) const;  // by lamp, m

    scene::Enclosure before_;
    double lamp_to_animal_;
    std::vector<Stance> stances_;
    std::vector<double> nearest_before_;
};

}  // namespace dapple::advice
