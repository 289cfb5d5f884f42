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
    Part basking;   // every bask spot's aimed UVI lies in the band
    Part retreat;   // some reach at or below the retreat UVI, and enough shade for zones 2-4
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
    std::map<double, double> quantiles;  // area-weighted UVI at 0, 0.1, 0.25, 0.5, 0.75, 0.9, 1
    double share_in_band;
    double share_in_shade;
};

struct AnimalJudgement {
    Species species;  // resolved: the document's overrides are in it
    int count;
    Band band;
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

struct JudgeOptions {
    double retreat_uvi = 0.2;  // our judgement (engine.md section 5)
    double shade_share = 0.1;  // of reach, for zones 2-4; our judgement
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
