// Judging in a given light: the whole of `judge` but the light itself, so that it can be tried in fields
// known in closed form.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "warmth/warmth.h"

namespace dapple::husbandry {

// Every quantity an aimed meter reads at one place, in the order of spectrum::quantities.
using Reading = std::array<double, spectrum::quantities.size()>;
double value(const Reading& reading, spectrum::Quantity quantity);

struct Light {
    std::function<std::vector<double>(std::span<const scene::Vec3> points, spectrum::Quantity,
                                      const light::Facing&)>
        values;
    std::function<Reading(const scene::Vec3& point)> aimed;
    // How warm surfaces are, C, in their order; none: warmth is judged by the irradiance that arrives.
    std::function<std::vector<double>(std::span<const warmth::Spot> surfaces)> surface_c = {};
};

// The computed light, which must outlive what is returned.
Light light_of(const light::Field& field);

Judgement judge_in(const Light& light, const scene::Enclosure& enclosure,
                   std::vector<AnimalJudgement> animals, const JudgeOptions& options = {});

// Where a reach is warm.
struct WarmPlaces {
    std::size_t warmest;
    double cool;  // the tenth of the area that is coolest stays at or below it
    double much;  // what the warmest tenth has
};

// Reach with what arrives there.
struct LitReach {
    Reach reach;
    std::vector<double> uvi;              // aimed
    std::vector<double> warmth;           // W/m2, facing up; empty where surface_c is not
    std::vector<double> surface_c;        // of what the animal stands on; empty: not computed
    std::optional<WarmPlaces> warm = {};  // where it was worked out before, as for hundreds of drawn fields
};

// At least one place.
WarmPlaces warm_of(const LitReach& lit, const JudgeOptions& options);

// The surfaces under a reach: an animal's back is straight above its feet where it stands, straight out where it
// clings.
std::vector<warmth::Spot> surfaces_of(const Reach& reach);

// A bask or retreat spot of this animal with its reading.
struct LitSpot {
    const scene::Place* place;
    double uvi;
};

// Whether a spot is meant for this animal: it names it, or none.
bool belongs_to(const scene::Place& spot, const AnimalJudgement& animal);

// All parts, for spots that belong to the animal.
Verdict verdict_of(const scene::Enclosure& enclosure, const std::vector<LitSpot>& spots,
                   const std::optional<Band>& band, const LitReach& lit, const JudgeOptions& options);

// The parts of the verdict, each from what it needs only.
Part judge_basking(const std::vector<LitSpot>& spots, const std::optional<Band>& band,
                   const ReachProfile& profile);
Part judge_retreat(const std::vector<LitSpot>& spots, const std::optional<Band>& band, const LitReach& lit,
                   const ReachProfile& profile, const JudgeOptions& options);
Part judge_ceiling(const scene::Enclosure& enclosure, const std::vector<LitSpot>& spots,
                   const std::optional<Band>& band, const LitReach& lit);
Part judge_gradient(const std::optional<Band>& band, const LitReach& lit, const JudgeOptions& options);
Part judge_together(const scene::Enclosure& enclosure, const LitReach& lit, const JudgeOptions& options);
Part judge_overall(const Verdict& parts);

// Area and shares, which the verdict asks for (in hundreds of drawn fields); profile_of adds the quantiles that are shown.
ReachProfile shares_of(const LitReach& lit, const std::optional<Band>& band, const JudgeOptions& options);
ReachProfile profile_of(const LitReach& lit, const std::optional<Band>& band, const JudgeOptions& options);

// The computed surface of each bask spot against what the species sheet asks for, as one note; empty where either is
// not known.
std::string basking_warmth(const Light& light, const std::vector<LitSpot>& spots, const Species& species);

// What the keeper should know beside the verdict. `brightest` is read at the place with the highest UVI.
std::vector<std::string> notes_on(const scene::Enclosure& enclosure,
                                  const std::vector<AnimalJudgement>& animals, const Reading& brightest);

}  // namespace dapple::husbandry
