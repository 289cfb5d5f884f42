// Simulated keepers: random enclosures whose lamps, mesh and leaves are not what the document says, read with a meter
// that is a little off, by a hand that trembles, past a leaf now and then. Invented from first to last.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "husbandry/reach.h"
#include "inference/fit.h"
#include "light/field.h"
#include "scene/document.h"

namespace dapple::tests {

struct Keeper {
    scene::Enclosure document;  // what the keeper wrote down
    scene::Enclosure truth;
    double meter;  // its true factor
    std::vector<inference::Reading> readings;
    std::vector<bool> leaf;     // by reading: one lay over the sensor and let 10 to 60 % through
    std::vector<bool> spoiled;  // by reading: a leaf of at least `least_effect`
    std::vector<scene::Vec3> unmeasured;
};

// The least effect of a leaf that is to be found: the light it takes away, in standard deviations of the meter's own
// noise (8 % of the light, and 0.05 UVI). Below about 0.3 UVI no leaf takes so much: it is dark there anyway.
inline constexpr double least_effect = 4;

class Keepers {
  public:
    explicit Keepers(std::uint64_t seed, light::FieldOptions field = {0}) : random_(seed), field_(field) {}

    Keeper next(std::size_t readings, double spoiled_share = 1.0 / 12) {
        Keeper keeper;
        const std::string text = document();
        const auto parsed = scene::parse_enclosure(text);
        if (!parsed) throw std::logic_error(to_text(parsed.error()));
        keeper.document = *parsed;
        keeper.truth = perturbed(*parsed);
        const light::Field field(keeper.truth, field_);
        const husbandry::Reach reach = husbandry::reach_of(keeper.document, 0.04, false);
        keeper.meter = std::exp(0.05 * normal());
        while (keeper.readings.size() < readings) read(keeper, field, any(reach.points), spoiled_share);
        for (int i = 0; i < 10; ++i) keeper.unmeasured.push_back(any(reach.points));
        return keeper;
    }

    // One more reading, meant to be at `point`.
    void read(Keeper& keeper, const light::Field& truth, const scene::Vec3& point,
              double spoiled_share = 1.0 / 12) {
        constexpr double floor = 0.05;  // UVI
        inference::Reading reading;
        reading.where = fmt::format("line {}", keeper.readings.size() + 2);
        reading.point = point;
        reading.quantity = spectrum::Quantity::uvi;
        const double light =
            truth.at(trembling(keeper.document, point)).measure(spectrum::Quantity::uvi) * keeper.meter;
        const bool leaf = uniform(0, 1) < spoiled_share;
        const double through = leaf ? uniform(0.1, 0.6) : 1;
        reading.value = std::max(0.0, light * through * std::exp(0.08 * normal()) + floor * normal());
        reading.values = {reading.value};
        keeper.leaf.push_back(leaf);
        keeper.spoiled.push_back(light * (1 - through) >= least_effect * std::hypot(0.08 * light, floor));
        keeper.readings.push_back(std::move(reading));
    }

    light::FieldOptions field() const { return field_; }
    double normal() { return normal_(random_); }
    double uniform(double from, double to) {
        return std::uniform_real_distribution<double>(from, to)(random_);
    }

  private:
    const scene::Vec3& any(const std::vector<scene::Vec3>& points) {
        return points[std::uniform_int_distribution<std::size_t>(0, points.size() - 1)(random_)];
    }

    // 2 cm off along each axis, but in the box and not in the stone.
    scene::Vec3 trembling(const scene::Enclosure& enclosure, const scene::Vec3& point) {
        const scene::Box& stone = std::get<scene::BoxShape>(enclosure.furniture.front().shape).box;
        while (true) {
            const scene::Vec3 place = point + 0.02 * scene::Vec3(normal(), normal(), normal());
            const bool in_box = (place.array() >= 0).all() && (place.array() <= enclosure.size.array()).all();
            const bool in_stone =
                (place.array() >= stone.min.array()).all() && (place.array() <= stone.max.array()).all();
            if (in_box && !in_stone) return place;
        }
    }

    std::string document() {
        const double w = uniform(60, 160), d = uniform(40, 70), h = uniform(45, 90);
        const auto tube = [&](const char* id, double middle, double length) {
            return fmt::format(
                R"({{"id": "{}", "kind": "tube", "length_cm": {}, "diameter_cm": 1.6,
                     "centre_cm": [{}, {}, {}], "along": [1, 0, 0], "aim": [0, 0, -1], "spread": {{"forward_power": 2}},
                     "spectrum": "fluorescent_uvb_strong", "output": {{"uvi": {}, "at_cm": 30}}}})",
                id, length * w, middle * w, d * uniform(0.3, 0.7), h + 3, uniform(4, 9));
        };
        // One tube along the middle, or, over every second enclosure, one for each half.
        std::string lamps = uniform(0, 1) < 0.5 ? tube("uv", uniform(0.45, 0.55), uniform(0.4, 0.8))
                                                : tube("left", uniform(0.2, 0.3), uniform(0.2, 0.4)) + ", " +
                                                      tube("right", uniform(0.7, 0.8), uniform(0.2, 0.4));
        if (uniform(0, 1) < 0.5) {
            lamps += fmt::format(
                R"(, {{"id": "flood", "name": "Flood", "kind": "spot", "diameter_cm": 9, "beam_deg": 50,
                       "centre_cm": [{}, {}, {}], "aim": [0, 0, -1], "spectrum": "mercury_vapour",
                       "output": {{"uvi": {}, "at_cm": 30}}}})",
                w * uniform(0.15, 0.85), d * uniform(0.3, 0.7), h + 4, uniform(3, 8));
        }
        const double sx = w * uniform(0.2, 0.6), sy = d * 0.3, sz = h * uniform(0.1, 0.35);
        std::string furniture = fmt::format(
            R"({{"id": "stone", "shape": "box", "min_cm": [{}, {}, 0], "max_cm": [{}, {}, {}], "material": "slate",
                 "perch": true}})",
            sx, sy, sx + 20, sy + 15, sz);
        if (uniform(0, 1) < 0.4) {
            const double fx = w * uniform(0.5, 0.75);
            furniture += fmt::format(
                R"(, {{"id": "fern", "shape": "foliage", "min_cm": [{}, {}, {}], "max_cm": [{}, {}, {}],
                       "leaf_area_density": {}}})",
                fx, d * 0.2, h * 0.2, fx + w * 0.25, d * 0.9, h * 0.6, uniform(2, 6));
        }
        // It basks on the stone and on the ground beside it; of zone 2, 3 or 4 (husbandry/zone.h).
        const auto [low, high] = std::vector<std::pair<double, double>>{
            {1.1, 3.0}, {2.9, 7.4}, {4.5, 9.5}}[std::uniform_int_distribution<std::size_t>(0, 2)(random_)];
        const std::string animal = fmt::format(
            R"({{"species": "crotaphytus_collaris", "back_height_cm": 4, "climbs": false, "band": [{}, {}]}})",
            low, high);
        const std::string spots = fmt::format(
            R"({{"id": "stone_top", "position_cm": [{}, {}, {}], "role": "bask"}},
               {{"id": "ground", "position_cm": [{}, {}, 0], "role": "bask"}})",
            sx + 10, sy + 7, sz, sx - 8, d / 2);
        const std::string screens = uniform(0, 1) < 0.7
                                        ? fmt::format(R"({{"id": "lid", "name": "Lid", "min_cm": [0, 0, {0}],
                 "max_cm": [{1}, {2}, {0}], "mesh": {{"pitch_mm": {3}, "wire_mm": 0.5}}}})",
                                                      h, w, d, uniform(2, 5))
                                        : "";
        return fmt::format(R"({{"format": "dapple/enclosure@1", "id": "sim", "size_cm": [{}, {}, {}],
                 "walls": {{"floor": "soil", "left": "wood", "right": "wood", "front": "wood", "back": "wood"}},
                 "lamps": [{}], "screens": [{}], "furniture": [{}], "animals": [{}], "spots": [{}]}})",
                           w, d, h, lamps, screens, furniture, animal, spots);
    }

    scene::Enclosure perturbed(scene::Enclosure enclosure) {
        for (scene::Lamp& lamp : enclosure.lamps) {
            const double factor = std::exp(0.25 * normal());
            for (scene::Output& output : lamp.output) output.value *= factor;
        }
        for (scene::Screen& screen : enclosure.screens) {
            // The open area ((p - w) / p)^2 times the factor: thicker or thinner wires.
            auto& mesh = std::get<scene::Mesh>(screen.kind);
            const double open = (1 - mesh.wire / mesh.pitch) * std::exp(0.15 * normal() / 2);
            mesh.wire = mesh.pitch * (1 - std::min(open, 0.99));
        }
        for (scene::Foliage& leaves : enclosure.foliage) leaves.leaf_area_density *= std::exp(0.5 * normal());
        return enclosure;
    }

    std::mt19937_64 random_;
    std::normal_distribution<double> normal_;
    light::FieldOptions field_;
};

// How fits did over many keepers.
struct Tally {
    int places = 0, covered = 0;
    int spoiled = 0, found = 0;      // with at least `least_effect`
    int set_aside = 0, rightly = 0;  // rightly: there was a leaf, of whatever effect
    std::vector<double> fitted_error,
        unfitted_error;  // |ln(predicted / true)|, at places with at least 0.2 UVI

    double coverage() const { return static_cast<double>(covered) / places; }
    double recall() const { return static_cast<double>(found) / spoiled; }
    double precision() const { return static_cast<double>(rightly) / set_aside; }
    void operator+=(const Tally& other) {
        places += other.places, covered += other.covered;
        spoiled += other.spoiled, found += other.found;
        set_aside += other.set_aside, rightly += other.rightly;
        for (const double error : other.fitted_error) fitted_error.push_back(error);
        for (const double error : other.unfitted_error) unfitted_error.push_back(error);
    }

    static double median(std::vector<double> values) {
        std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                         values.end());
        return values[values.size() / 2];
    }
};

inline void add_to(Tally& tally, const Keeper& keeper, const inference::Fit& fit,
                   const light::FieldOptions& options) {
    const light::Field truth(keeper.truth, options);
    const auto there = fit.response->at(keeper.unmeasured, spectrum::Quantity::uvi, {}, true);
    const Eigen::VectorXd prior = Eigen::VectorXd::Zero(fit.mean.size());
    for (std::size_t i = 0; i < keeper.unmeasured.size(); ++i) {
        const double light = truth.at(keeper.unmeasured[i]).measure(spectrum::Quantity::uvi);
        if (light < 0.2) continue;
        const inference::Prediction predicted = fit.predict(there, i);
        const auto [low, high] = predicted.interval();
        ++tally.places;
        tally.covered += light >= low && light <= high ? 1 : 0;
        tally.fitted_error.push_back(std::abs(std::log(predicted.value / light)));
        const double unfitted = fit.response->value(there, i, prior.data());
        tally.unfitted_error.push_back(std::abs(std::log(unfitted / light)));
    }
    std::vector<bool> aside(keeper.readings.size(), false);
    for (const inference::SetAside& one : fit.set_aside) aside[one.index] = true;
    for (std::size_t i = 0; i < aside.size(); ++i) {
        tally.spoiled += keeper.spoiled[i] ? 1 : 0;
        tally.set_aside += aside[i] ? 1 : 0;
        tally.found += aside[i] && keeper.spoiled[i] ? 1 : 0;
        tally.rightly += aside[i] && keeper.leaf[i] ? 1 : 0;
    }
}

}  // namespace dapple::tests
