// The judgement of an enclosure: for each animal, whether it can choose what it needs, part by part with
// reasons.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "husbandry/reach.h"
#include "husbandry/species.h"
#include "husbandry/zone.h"
#include "light/field.h"
#include "scene/enclosure.h"

namespace dapple::husbandry {

struct Part {
    std::optional<bool> holds;          // nothing: nothing to judge from
    std::optional<double> probability;  // once there is a fit
    std::string why;                    // a sentence for the keeper
};

struct Verdict {
    Part basking;  // every bask spot's aimed UVI lies in the band
    Part
        retreat;  // some reach at or below the retreat UVI, and enough shade for bands that start above shade
    Part ceiling;   // no reach above the band's top
    Part gradient;  // reach between retreat and band without a hole
    Part together;  // the place with the UV is the place with the warmth
    Part overall;
};

struct SpotReading {
    std::string id;
    std::string name;
    scene::Vec3 point;  // where it is read: position + height
    double uvi;
    std::optional<std::pair<double, double>> interval;  // 90 %, once there is a fit
};

struct ReachProfile {
    std::map<double, double>
        quantiles;    // area-weighted UVI at 0, 0.1, 0.25, 0.5, 0.75, 0.9, 1; empty: no reach
    double area = 0;  // m2
    double share_in_band = 0;
    double share_in_shade = 0;
};

struct AnimalJudgement {
    std::string named;  // as the document names the species: its id or a synonym
    Species species;    // resolved: the document's overrides are in it
    int count;
    std::optional<Band> band;             // nothing: nobody knows the animal's zone
    std::map<std::string, State> states;  // by spot id, all spots that belong to this animal
    ReachProfile reach;
    Verdict verdict;
};

struct Judgement {
    std::string enclosure;
    std::vector<SpotReading> spots;
    std::vector<AnimalJudgement> animals;
    std::vector<std::string>
        notes;  // what the keeper should know: dark lamps, UV behind glass, UVC, exposure time
};

// Thresholds without a source are our judgement (engine.md section 5 names the first two), and adjustable.
struct JudgeOptions {
    double retreat_uvi = 0.2;
    double shade_share = 0.1;   // of reach, for animals whose band starts above shade (zones 2-4)
    double shade_uvi = 0.7;     // shade is what zone 1 seeks (Ferguson et al. 2010, from memory)
    int steps_per_decade = 5;   // into which the way from retreat to band is cut, on a logarithmic axis
    double step_share = 0.005;  // of reach that every step must offer
    double tenth = 0.1;         // the share of reach that counts as the most UV and as the most warmth
    double overlap = 0.25;      // of these two tenths, for UV and warmth to lie together
    double least_warmth = 50;   // W/m2 at the warmest place; where less arrives no lamp warms
    light::FieldOptions field = {};
    ReachOptions reach = {};
};

// The animals of a document with their species sheets and overrides. Fails where a species is unknown and
// nothing can be estimated.
Expected<std::vector<AnimalJudgement>> resolve_animals(const scene::Enclosure& enclosure);

// Where a spot is read: its position, plus its own height or the back height of the animal it belongs to (of
// the first animal where it names none).
scene::Vec3 reading_point(const scene::Place& spot, const std::vector<AnimalJudgement>& animals);

Expected<Judgement> judge(const scene::Enclosure& enclosure, const JudgeOptions& options = {});

nlohmann::json to_json(const Judgement& judgement);  // contract.md, `check --json`
std::string to_text(const Judgement& judgement);     // for the terminal

}  // namespace dapple::husbandry
