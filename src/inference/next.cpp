#include "inference/next.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "husbandry/judging.h"
#include "husbandry/words.h"
#include "inference/fit_model.h"
#include "inference/next_question.h"

namespace dapple::inference {

namespace {

using husbandry::AnimalJudgement;
using husbandry::uvi_in_words;
using scene::Vec3;
using spectrum::Quantity;

constexpr double endless = std::numeric_limits<double>::infinity();

// The light at a place with its slopes in logarithms.
struct Lit {
    double light;
    Eigen::VectorXd slopes;
    double sd;
};

std::string in_words(const Vec3& point) {
    return fmt::format("{:.0f}, {:.0f}, {:.0f} cm", 100 * point.x(), 100 * point.y(), 100 * point.z());
}

class Search {
  public:
    Search(const Fit& fit, const NextOptions& options, std::vector<AnimalJudgement> animals)
        : fit_(fit), options_(options), animals_(std::move(animals)) {}

    Outlook run() {
        ask_about_spots();
        for (const AnimalJudgement& animal : animals_) look_over_reach(animal);
        if (questions_.empty()) {
            for (std::size_t i = 0; i < spots(); ++i) {
                add_question("what " + places_[i].words + " reads", lit_at(spot_response_, i), endless,
                             -endless);
            }
        }
        weigh_places();
        return {doubt(), questions_.size(), std::move(places_)};
    }

  private:
    const scene::Enclosure& enclosure() const { return fit_.response->enclosure(); }
    std::size_t spots() const { return enclosure().spots.size(); }

    Lit lit_at(const Response& response, std::size_t place) const {
        Lit lit;
        lit.light = fit_.response->value(response, place, fit_.mean.data(), {}, &lit.slopes);
        if (lit.light > 0) lit.slopes /= lit.light;
        lit.sd = std::sqrt(lit.slopes.dot(fit_.covariance * lit.slopes));
        return lit;
    }

    // Limits in UVI.
    void add_question(std::string words, const Lit& lit, double low, double high) {
        if (!(lit.light > 0)) return;
        const auto logarithm = [](double uvi) { return uvi > 0 ? std::log(uvi) : -endless; };
        const bool asks_how_much = low >= high;
        Question question{std::move(words), std::log(lit.light), lit.slopes,
                          asks_how_much ? 0 : logarithm(low), asks_how_much ? 0 : logarithm(high)};
        if (!asks_how_much) {
            question.words +=
                fmt::format(", now {:.0f} % likely", 100 * probability(question, fit_.covariance));
        }
        questions_.push_back(std::move(question));
    }

    void ask_about_spots() {
        std::vector<Vec3> points;
        for (const scene::Place& spot : enclosure().spots) {
            points.push_back(husbandry::reading_point(spot, animals_));
            places_.push_back({spot.id, spot.name.empty() ? spot.id : spot.name, points.back(), "", 0});
        }
        if (points.empty()) return;
        spot_response_ = fit_.response->at(points, Quantity::uvi, {}, true);
        for (std::size_t i = 0; i < points.size(); ++i) {
            lit_.push_back(lit_at(spot_response_, i));
            if (enclosure().spots[i].role != scene::Role::bask) continue;
            for (const AnimalJudgement& animal : animals_) {
                if (!animal.band || !husbandry::belongs_to(enclosure().spots[i], animal)) continue;
                add_question(fmt::format("whether {} lies in the band {}-{}", places_[i].words,
                                         uvi_in_words(animal.band->low), uvi_in_words(animal.band->high)),
                             lit_.back(), animal.band->low, animal.band->high);
            }
        }
    }

    void look_over_reach(const AnimalJudgement& animal) {
        const husbandry::Reach reach = husbandry::reach_of(enclosure(), animal.species.back_height,
                                                           animal.species.climbs, options_.judge.reach);
        if (reach.points.empty()) return;
        const Response response = fit_.response->at(reach.points, Quantity::uvi, {}, false);
        const std::size_t wanted = std::max<std::size_t>(1, options_.places / animals_.size());
        const std::size_t stride = (reach.points.size() + wanted - 1) / wanted;
        std::size_t brightest = 0;
        std::size_t darkest = 0;
        std::vector<double> likely_most(reach.points.size());
        for (std::size_t i = 0; i < reach.points.size(); ++i) {
            const Lit lit = lit_at(response, i);
            likely_most[i] = lit.light * std::exp(lit.sd);
            if (likely_most[i] > likely_most[brightest]) brightest = i;
            if (likely_most[i] < likely_most[darkest]) darkest = i;
            if (i % stride != 0) continue;
            places_.push_back({"", in_words(reach.points[i]), reach.points[i], "", 0});
            lit_.push_back(lit);
        }
        if (!animal.band) return;
        add_question(fmt::format("whether the brightest place in reach stays under the ceiling {}",
                                 uvi_in_words(animal.band->ceiling)),
                     lit_at(response, brightest), 0, animal.band->ceiling);
        add_question(fmt::format("whether the darkest place in reach is a retreat (at most {} UVI)",
                                 uvi_in_words(options_.judge.retreat_uvi)),
                     lit_at(response, darkest), 0, options_.judge.retreat_uvi);
    }

    // What a UVI reading at a place would say, by the meter used so far; a new one's factor is noise.
    Probe probe_at(const Vec3& point, const Lit& lit) const {
        const double floor = floor_of(Quantity::uvi);
        const FitOptions& errs = options_.reading;
        Probe probe{lit.slopes, 0, 1};
        double meter = errs.meter_sd;
        for (std::size_t u = 0; u < fit_.unknowns.size(); ++u) {
            if (fit_.unknowns[u].kind != Unknown::Kind::meter || !fit_.unknowns[u].group.ends_with("uvi"))
                continue;
            probe.slopes[static_cast<Eigen::Index>(u)] = 1;
            meter = 0;
            break;
        }
        const double share = lit.light / (lit.light + floor);
        probe.slopes *= share;
        const Placement placement = placement_at(*fit_.response, point, Quantity::uvi, {}, errs.placement);
        for (const auto& [probability, step] : placement.steps) probe.usable -= probability;
        probe.noise = share * share * (errs.noise * errs.noise + meter * meter) +
                      std::pow(floor / (lit.light + floor), 2) + placement.sd * placement.sd;
        return probe;
    }

    void weigh_places() {
        for (std::size_t i = 0; i < places_.size(); ++i) {
            if (!(lit_[i].light > 0)) continue;
            const Probe probe = probe_at(places_[i].point, lit_[i]);
            double most = -1;
            for (const Question& question : questions_) {
                const double one = gain(question, probe, fit_.covariance);
                places_[i].gain += one;
                if (one <= most) continue;
                most = one;
                places_[i].settles = question.words;
            }
        }
    }

    double doubt() const {
        double bits = 0;
        for (const Question& question : questions_) {
            bits += entropy(question, question.mean, question.slopes.dot(fit_.covariance * question.slopes));
        }
        return questions_.empty() ? 0 : bits / static_cast<double>(questions_.size());
    }

    const Fit& fit_;
    const NextOptions& options_;
    std::vector<AnimalJudgement> animals_;
    std::vector<Question> questions_;
    std::vector<NextReading> places_;
    std::vector<Lit> lit_;  // by place
    Response spot_response_;
};

// Best first, none beside another.
std::vector<NextReading> best_of(std::vector<NextReading> places, const NextOptions& options) {
    std::stable_sort(places.begin(), places.end(),
                     [](const NextReading& a, const NextReading& b) { return a.gain > b.gain; });
    std::vector<NextReading> chosen;
    for (NextReading& place : places) {
        if (chosen.size() == options.most) break;
        const bool is_beside = std::any_of(chosen.begin(), chosen.end(), [&](const NextReading& other) {
            return (other.point - place.point).norm() < options.apart;
        });
        if (!is_beside && !place.settles.empty()) chosen.push_back(std::move(place));
    }
    return chosen;
}

}  // namespace

Expected<Outlook> outlook(const Fit& fit, const NextOptions& options) {
    const scene::Enclosure& enclosure = fit.response->enclosure();
    auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected(animals.error());
    if (animals->empty() && enclosure.spots.empty()) {
        return refuse({enclosure.id, "", "neither an animal nor a spot",
                       "an animal whose verdict is in question, or a spot whose reading is"});
    }
    return Search(fit, options, std::move(*animals)).run();
}

Expected<std::vector<NextReading>> next_readings(const Fit& fit, const NextOptions& options) {
    auto all = outlook(fit, options);
    if (!all) return tl::unexpected(all.error());
    return best_of(std::move(all->places), options);
}

nlohmann::json to_json(const std::vector<NextReading>& next) {
    nlohmann::json list = nlohmann::json::array();
    for (const NextReading& reading : next) {
        nlohmann::json one = {{"settles", reading.settles}, {"gain", reading.gain}};
        const auto cm = [](double m) { return std::round(m * 1e4) / 100; };
        if (reading.spot.empty()) {
            one["point_cm"] = {cm(reading.point.x()), cm(reading.point.y()), cm(reading.point.z())};
        } else {
            one["spot"] = reading.spot;
        }
        list.push_back(std::move(one));
    }
    return {{"next", std::move(list)}};
}

std::string to_text(const std::vector<NextReading>& next) {
    constexpr double next_to_nothing = 0.01;  // bits
    if (next.empty() || next.front().gain < next_to_nothing) {
        return "The verdict is as good as settled: no single reading would change what is known of it.\n";
    }
    std::string text;
    for (std::size_t i = 0; i < next.size() && next[i].gain >= next_to_nothing; ++i) {
        text += fmt::format("{:>2}. {}: tells {} (gain {:.2f} bit).\n", i + 1, next[i].words, next[i].settles,
                            next[i].gain);
    }
    return text;
}

}  // namespace dapple::inference
