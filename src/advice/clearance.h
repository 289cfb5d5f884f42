// What a changed enclosure may not do: put things through one another, out of the box, or a lamp too near to
// the animal. Faults the enclosure had before the change are tolerated as long as they do not grow.
#pragma once

#include <string>
#include <vector>

#include "advice/fix.h"
#include "advice/solid.h"
#include "husbandry/verdict.h"

namespace dapple::advice {

class Clearances {
  public:
    Clearances(const scene::Enclosure& before, const FixOptions& options);

    // Is there room for the change, of which `after` is the outcome?
    bool allow(const scene::Enclosure& after, const Change& change) const;

    // The same for a search that asks thousands of times: places in reach are carried along with what they lie on, not
    // looked for anew.
    bool seem_to_allow(const scene::Enclosure& after, const Change& change) const;

  private:
    struct Stance {  // what decides how an animal moves about
        double back_height;
        bool climbs;
    };
    struct InReach {
        scene::Vec3 point;
        std::string on;  // the name of what it lies on
    };
    struct Body {
        Solid solid;
        scene::Box bounds;
    };
    enum class Reach { carried, anew };

    bool allows(const scene::Enclosure& after, const Change& change, Reach reach) const;
    bool has_room(const scene::Enclosure& after, const Change& change) const;
    bool keeps_distance(const scene::Enclosure& after, const Change& change, Reach reach) const;
    bool furniture_has_room(const scene::Enclosure& after, const std::string& id) const;
    bool bears_something(const std::string& id) const;
    bool lamp_has_room(const scene::Enclosure& after, const std::string& id, bool carried_straight) const;
    bool spots_stay_free(const scene::Enclosure& after, const std::string& furniture) const;
    std::vector<InReach> reach_in(const scene::Enclosure& enclosure) const;

    // Least distances by lamp, m. Of the enclosure as it was, or with what a moved piece carries.
    std::vector<double> nearest(const scene::Enclosure& enclosure, const std::vector<InReach>& reach) const;

    static Body body_of(Solid solid);
    static bool worse(const Body& a, const Body& b, const Body* a_before, const Body* b_before);

    scene::Enclosure before_;
    double lamp_to_animal_;
    std::vector<Stance> stances_;
    std::vector<InReach> reach_;
    std::vector<double> nearest_;
    std::vector<Body> furniture_;  // of before_, in its order
    std::vector<Body> screens_;
    std::vector<Body> lamps_;
};

}  // namespace dapple::advice
