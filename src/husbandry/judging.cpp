#include "husbandry/judging.h"

#include <algorithm>
#include <iterator>
#include <map>

namespace dapple::husbandry {

namespace {

using scene::Vec3;
using spectrum::Quantity;

LitReach lit_reach(const Light& light, Reach reach) {
    LitReach lit;
    if (!reach.points.empty()) {
        lit.uvi = light.values(reach.points, Quantity::uvi, light::Facing::aimed());
        if (light.surface_c) {
            lit.surface_c = light.surface_c(surfaces_of(reach));
        } else {
            lit.warmth = light.values(reach.points, Quantity::irradiance, light::Facing::up());
        }
    }
    lit.reach = std::move(reach);
    return lit;
}

// The place with the highest UVI met so far.
struct Brightest {
    Vec3 point = Vec3::Zero();
    double uvi = -1;
    void consider(const Vec3& place, double here) {
        if (here <= uvi) return;
        uvi = here;
        point = place;
    }
};

}  // namespace

std::vector<warmth::Spot> surfaces_of(const Reach& reach) {
    std::vector<warmth::Spot> surfaces;
    surfaces.reserve(reach.feet.size());
    for (std::size_t i = 0; i < reach.feet.size(); ++i) {
        const Vec3 away = reach.points[i] - reach.feet[i];
        surfaces.push_back({reach.feet[i], away.norm() > 0 ? away.normalized() : Vec3(Vec3::UnitZ())});
    }
    return surfaces;
}

bool belongs_to(const scene::Place& spot, const AnimalJudgement& animal) {
    return spot.animal.empty() || spot.animal == animal.named || spot.animal == animal.species.id;
}

Verdict verdict_of(const scene::Enclosure& enclosure, const std::vector<LitSpot>& spots,
                   const std::optional<Band>& band, const LitReach& lit, const JudgeOptions& options) {
    const ReachProfile profile = shares_of(lit, band, options);
    Verdict v;
    v.basking = judge_basking(spots, band, profile);
    v.retreat = judge_retreat(spots, band, lit, profile, options);
    v.ceiling = judge_ceiling(enclosure, spots, band, lit);
    v.gradient = judge_gradient(band, lit, options);
    v.together = judge_together(enclosure, lit, options);
    v.overall = judge_overall(v);
    return v;
}

Judgement judge_in(const Light& light, const scene::Enclosure& enclosure,
                   std::vector<AnimalJudgement> animals, const JudgeOptions& options) {
    Judgement judgement;
    judgement.enclosure = enclosure.id;
    Brightest brightest;
    std::vector<std::string> warmth_notes;
    std::map<const scene::Place*, double> uvi_at;
    for (const scene::Place& spot : enclosure.spots) {
        const Vec3 point = reading_point(spot, animals);
        const double uvi = value(light.aimed(point), Quantity::uvi);
        uvi_at[&spot] = uvi;
        brightest.consider(point, uvi);
        judgement.spots.push_back(
            {spot.id, spot.name.empty() ? spot.id : spot.name, point, uvi, std::nullopt});
    }
    for (AnimalJudgement& animal : animals) {
        std::vector<LitSpot> own;
        for (const scene::Place& spot : enclosure.spots) {
            if (!belongs_to(spot, animal)) continue;
            own.push_back({&spot, uvi_at[&spot]});
            if (animal.band) animal.states[spot.id] = state_of(uvi_at[&spot], *animal.band);
        }
        const LitReach lit = lit_reach(
            light, reach_of(enclosure, animal.species.back_height, animal.species.climbs, options.reach));
        for (std::size_t i = 0; i < lit.uvi.size(); ++i) brightest.consider(lit.reach.points[i], lit.uvi[i]);
        animal.reach = profile_of(lit, animal.band, options);
        animal.verdict = verdict_of(enclosure, own, animal.band, lit, options);
        warmth_notes.push_back(basking_warmth(light, own, animal.species));
    }
    const Reading at_brightest = brightest.uvi > 0 ? light.aimed(brightest.point) : Reading{};
    judgement.notes = notes_on(enclosure, animals, at_brightest);
    std::copy_if(warmth_notes.begin(), warmth_notes.end(), std::back_inserter(judgement.notes),
                 [](const std::string& note) { return !note.empty(); });
    judgement.animals = std::move(animals);
    return judgement;
}

}  // namespace dapple::husbandry
