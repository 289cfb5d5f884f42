// Where the demo's meters were held, and what the computed field has there.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "light/field.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::server {

struct DemoPlace {
    nlohmann::json where;         // the reading's fields that say so
    std::string spot;             // id; empty: a point
    std::vector<double> by_lamp;  // UVI of the document's lamps, in their order
    double surface_c;
};

class DemoPlaces {
  public:
    // `enclosure` must outlive it. Fails where its animals are unknown.
    static Expected<DemoPlaces> of(const scene::Enclosure& enclosure);

    // "spots" by id and "points_cm", with their light. A meter is turned to where it would read most with lamps as in
    // the document; those of an enclosure fade so much alike that its direction hardly moves.
    Expected<std::vector<DemoPlace>> lit(const nlohmann::json& round) const;

    // "spots" by id, with the temperature of the surface that an infrared thermometer is pointed at.
    Expected<std::vector<DemoPlace>> warm(const nlohmann::json& round) const;

  private:
    DemoPlaces(const scene::Enclosure& enclosure, std::vector<husbandry::AnimalJudgement> animals);
    Expected<const scene::Place*> spot(const std::string& id) const;
    DemoPlace lit_at(nlohmann::json where, const std::string& spot, const scene::Vec3& point) const;

    const scene::Enclosure* enclosure_;
    std::vector<husbandry::AnimalJudgement> animals_;
    light::Field field_;
};

}  // namespace dapple::server
