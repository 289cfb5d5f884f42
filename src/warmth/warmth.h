// Warmth: how warm the places are where an animal sits, and the air about them.
//
// The enclosure's balance (balance.h) gives the air, each place's own balance (basking_surface.h) the surface; lamp
// light comes from light::Field. Steady, by day with the lamps on, by night with those on that burn 24 h. An estimate
// with a stated error, never a thermostat: docs/warmth.md names every formula, assumption and sensitivity.
#pragma once

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "light/field.h"
#include "scene/enclosure.h"
#include "warmth/assumptions.h"
#include "warmth/balance.h"
#include "warmth/basking_surface.h"

namespace dapple::warmth {

struct WarmthOptions {
    std::optional<double> room_c;  // instead of the document's
    bool night = false;
    bool mixed_light =
        false;  // add the diffuse remainder of where_light_ends.h: for a field of direct light alone
};

// A place whose surface is asked for: where the animal's feet are and the surface's normal.
struct Spot {
    scene::Vec3 feet;
    scene::Vec3 normal = scene::Vec3::UnitZ();
    bool operator==(const Spot&) const = default;
};

struct Temperature {
    double surface_c;
    double air_c;  // a few centimetres above
};

// What is left unsaid by every assumption: no model of this kind is better than that (docs/warmth.md). One standard
// deviation, K, for a place so much warmer than the room.
double model_sd(double rise_k);

using Interval = std::pair<double, double>;

class Warmth {
  public:
    // `field` need only live as long as the constructor runs; its reflected light is used where it has any.
    Warmth(const light::Field& field, std::span<const Spot> spots, const WarmthOptions& options = {});
    ~Warmth();
    Warmth(Warmth&&) noexcept;
    Warmth& operator=(Warmth&&) noexcept;

    struct State {
        Balance balance;
        std::vector<double> on;  // by lamp: how far its thermostat lets it, 0 to 1; 0 where it is off
    };

    // The enclosure as a whole. Lamps with a thermostat are turned down until no bask spot of the document is warmer.
    State state(const Assumptions& assumptions) const;
    State state() const;

    // By spot, in the order given.
    std::vector<Temperature> at_spots(const State& state, const Assumptions& assumptions) const;
    std::vector<Temperature> at_spots(const Assumptions& assumptions) const;
    std::vector<Temperature> at_spots() const;

    const std::vector<Assumption>& assumptions() const;
    const std::vector<LampHeat>& lamps() const;  // as published
    const scene::Enclosure& enclosure() const;

  private:
    struct Data;
    std::unique_ptr<Data> data_;
};

// One of a document's spots.
struct SpotWarmth {
    std::string id;
    std::string name;
    double surface_c;
    double air_c;
    Interval interval;      // of the surface, 90 %
    Interval air_interval;  // 90 %
    double night_c;         // of the surface by night
};

// How far each surface and air temperature moves with one standard deviation of each assumption, K: half the difference
// between one up and one down from what is believed.
struct Sensitivity {
    Assumption assumption;
    std::vector<double> surface_k;  // by spot
    std::vector<double> air_k;
};
std::vector<Sensitivity> sensitivities(const Warmth& warmth, const Belief& belief);
std::vector<Sensitivity> sensitivities(const Warmth& warmth);  // from the published values

struct Report {
    std::vector<SpotWarmth> spots;
    Balance balance;  // by day
    std::vector<Sensitivity> by_assumption;
    std::vector<std::string> notes;  // what a keeper must know: contradictions, limits, cautions
};

std::vector<Spot> spots_of(const scene::Enclosure& enclosure);

// Everything about a document's spots, by day and by night, with intervals; as published, or as readings have taught.
Report report(const light::Field& field, const WarmthOptions& options = {});
Report report(const light::Field& field, const Belief& belief, const WarmthOptions& options = {});

nlohmann::json to_json(const Report& report);  // contract.md, `warmth --json`
std::string to_text(const Report& report);     // for the terminal

// The same spots' temperatures by day alone, without intervals and by direct light with a well-mixed remainder: a
// fraction of a millisecond for each lamp, to try changes with.
std::vector<Temperature> glance(const scene::Enclosure& enclosure, const WarmthOptions& options = {});

}  // namespace dapple::warmth
