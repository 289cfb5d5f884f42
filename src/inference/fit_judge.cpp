#include "inference/fit_judge.h"

#include <array>
#include <cmath>
#include <utility>

#include "husbandry/judging.h"

namespace dapple::inference {

namespace {

using husbandry::AnimalJudgement;
using husbandry::Judgement;
using husbandry::Part;
using husbandry::Verdict;
using scene::Vec3;
using spectrum::Quantity;

constexpr std::array parts = {&Verdict::basking,  &Verdict::retreat,  &Verdict::ceiling,
                              &Verdict::gradient, &Verdict::together, &Verdict::overall};

// The fitted light for judge_in, which keeps what it worked out so that draws from the posterior cost little.
class FittedLight {
  public:
    explicit FittedLight(const Fit& fit) : fit_(fit) {}

    husbandry::Light light() {
        return {[this](std::span<const Vec3> points, Quantity quantity, const light::Facing& facing) {
                    reach_.push_back(fit_.response->at(points, quantity, facing, false));
                    return fit_.response->values(reach_.back(), fit_.mean.data());
                },
                [this](const Vec3& point) { return aimed(point); },
                [this](std::span<const warmth::Spot> surfaces) { return surface_c(surfaces); }};
    }

    // Of lamps as strong as the fit's medians: the same warmth for every draw, as it only ranks the places. Kept, as the
    // draws ask again for what the judgement asked for.
    std::vector<double> surface_c(std::span<const warmth::Spot> surfaces) {
        const std::vector<warmth::Spot> asked(surfaces.begin(), surfaces.end());
        for (const auto& [known, celsius] : warm_) {
            if (known == asked) return celsius;
        }
        auto assumptions = warmth::as_published(fit_.response->enclosure());
        for (std::size_t u = 0; u < fit_.unknowns.size(); ++u) {
            if (fit_.unknowns[u].kind != Unknown::Kind::lamp) continue;
            assumptions.lamps[static_cast<std::size_t>(fit_.unknowns[u].index)] =
                std::exp(fit_.mean[static_cast<Eigen::Index>(u)]);
        }
        std::vector<double> celsius;
        for (const auto& t : warmth::Warmth(fit_.response->field(), surfaces).at_spots(assumptions)) {
            celsius.push_back(t.surface_c);
        }
        warm_.emplace_back(asked, celsius);
        return celsius;
    }

    // In the order in which they were asked for: the spots first; the UVI of each animal's reach.
    const std::vector<Response>& spots() const { return spots_; }
    const std::vector<Response>& reach() const { return reach_; }

  private:
    husbandry::Reading aimed(const Vec3& point) {
        Response response = fit_.response->at(std::span(&point, 1), Quantity::uvi, {}, false);
        const light::Arrival arrival = fit_.response->field().at(point);
        husbandry::Reading reading{};
        for (std::size_t q = 0; q < reading.size(); ++q) {
            set_light(response, arrival, spectrum::quantities[q]);
            reading[q] = fit_.response->value(response, 0, fit_.mean.data());
        }
        set_light(response, arrival, Quantity::uvi);
        spots_.push_back(std::move(response));
        return reading;
    }

    static void set_light(Response& response, const light::Arrival& arrival, Quantity quantity) {
        for (std::size_t l = 0; l < response.light.size(); ++l) {
            response.light[l][0] = arrival.measure(quantity, static_cast<int>(l));
        }
    }

    const Fit& fit_;
    std::vector<Response> spots_;
    std::vector<Response> reach_;
    std::vector<std::pair<std::vector<warmth::Spot>, std::vector<double>>> warm_;
};

// How often each part holds.
struct Count {
    std::array<std::size_t, parts.size()> holds{};
    void add(const Verdict& verdict) {
        for (std::size_t i = 0; i < parts.size(); ++i) holds[i] += (verdict.*parts[i]).holds == true ? 1 : 0;
    }
};

class Draws {
  public:
    Draws(const Fit& fit, FittedLight& light, const Judgement& judgement,
          const husbandry::JudgeOptions& options)
        : fit_(fit), light_(light), judgement_(judgement), options_(options) {
        for (const AnimalJudgement& animal : judgement.animals) {
            husbandry::LitReach lit;
            lit.reach = husbandry::reach_of(enclosure(), animal.species.back_height, animal.species.climbs,
                                            options.reach);
            if (!lit.reach.points.empty()) {
                lit.surface_c = light.surface_c(husbandry::surfaces_of(lit.reach));
                lit.warm = husbandry::warm_of(lit, options);
            }
            reaches_.push_back(std::move(lit));
        }
        counts_.resize(judgement.animals.size());
    }

    void add(const Eigen::VectorXd& unknowns) {
        std::size_t table = 0;
        for (std::size_t a = 0; a < judgement_.animals.size(); ++a) {
            husbandry::LitReach& lit = reaches_[a];
            if (!lit.reach.points.empty()) {
                lit.uvi = fit_.response->values(light_.reach()[table], unknowns.data());
                ++table;
            }
            const AnimalJudgement& animal = judgement_.animals[a];
            std::vector<husbandry::LitSpot> own;
            for (std::size_t s = 0; s < enclosure().spots.size(); ++s) {
                const scene::Place& spot = enclosure().spots[s];
                if (!husbandry::belongs_to(spot, animal)) continue;
                own.push_back({&spot, fit_.response->value(light_.spots()[s], 0, unknowns.data())});
            }
            counts_[a].add(husbandry::verdict_of(enclosure(), own, animal.band, lit, options_));
        }
    }

    const std::vector<Count>& counts() const { return counts_; }

  private:
    const scene::Enclosure& enclosure() const { return fit_.response->enclosure(); }

    const Fit& fit_;
    FittedLight& light_;
    const Judgement& judgement_;
    const husbandry::JudgeOptions& options_;
    std::vector<husbandry::LitReach> reaches_;
    std::vector<Count> counts_;
};

}  // namespace

Expected<Judgement> judge_fitted(const Fit& fit, const FittedJudgeOptions& options) {
    const scene::Enclosure& enclosure = fit.response->enclosure();
    auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    FittedLight light(fit);
    Judgement judgement = husbandry::judge_in(light.light(), enclosure, std::move(*animals), options.judge);
    for (std::size_t s = 0; s < judgement.spots.size(); ++s) {
        judgement.spots[s].interval = fit.predict(light.spots()[s], 0).interval();
    }
    Draws draws(fit, light, judgement, options.judge);
    std::mt19937_64 random(options.seed);
    for (const Eigen::VectorXd& unknowns : fit.draw(options.draws, random)) draws.add(unknowns);
    for (std::size_t a = 0; a < judgement.animals.size(); ++a) {
        for (std::size_t i = 0; i < parts.size(); ++i) {
            Part& part = judgement.animals[a].verdict.*parts[i];
            if (!part.holds) continue;
            part.probability =
                static_cast<double>(draws.counts()[a].holds[i]) / static_cast<double>(options.draws);
        }
    }
    for (std::string& sentence : notes(fit)) judgement.notes.push_back(std::move(sentence));
    return judgement;
}

}  // namespace dapple::inference
