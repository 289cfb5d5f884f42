#include "server/demo_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "server/demo_places.h"

namespace dapple::server {

namespace {

using inference::Day;
using nlohmann::json;

// Box & Muller 1958, Annals of Mathematical Statistics 29:610-611; std::normal_distribution differs between libraries.
double normal(std::mt19937_64& random) {
    const auto uniform = [&] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
    const double radius = std::sqrt(-2 * std::log(uniform()));
    return radius * std::cos(2 * M_PI * uniform());
}

class Meter {
  public:
    explicit Meter(const json& thing)
        : id_(thing.at("id")),
          quantity_(thing.at("fields").at("measures")),
          shows_(thing.at("truth").at("shows")),
          scatter_(thing.at("truth").at("scatter")),
          floor_(thing.at("truth").at("floor")),
          step_(thing.at("truth").at("step")) {}

    const std::string& id() const { return id_; }
    const std::string& quantity() const { return quantity_; }
    bool is_thermometer() const { return quantity_ == "temperature"; }

    double read(double truth, std::mt19937_64& random) const {
        double shown = truth * shows_ * (1 + scatter_ * normal(random)) + floor_ * normal(random);
        if (!is_thermometer()) shown = std::max(0.0, shown);
        // As its display has it: 3.3, not 3.3000000000000003.
        return std::stod(fmt::format("{:.6g}", step_ * std::round(shown / step_)));
    }

  private:
    std::string id_;
    std::string quantity_;
    double shows_;
    double scatter_;
    double floor_;
    double step_;
};

// One meter at its places.
struct Round {
    Meter meter;
    int values;
    std::vector<DemoPlace> places;
};

Expected<Round> round_of(const DemoStory& story, const DemoPlaces& places, const json& told) {
    const auto thing = story.thing(told.at("meter"));
    if (!thing) return tl::unexpected(thing.error());
    const Meter meter(**thing);
    auto at = meter.is_thermometer() ? places.warm(told) : places.lit(told);
    if (!at) return tl::unexpected(at.error());
    return Round{meter, told.at("values"), std::move(*at)};
}

// What lay over the sensor at a spot that day lets through.
double through_leaves(const json& told, int days_ago, const std::string& spot) {
    for (const json& leaf : told.value("spoiled", json::array())) {
        if (leaf.at("days_ago") == days_ago && leaf.at("spot") == spot) return leaf.at("lets_through");
    }
    return 1;
}

// "09:40" and so long after it.
std::string moment(Day day, const std::string& at, int minutes, int seconds = 0) {
    const int since_midnight = std::stoi(at.substr(0, 2)) * 60 + std::stoi(at.substr(3, 2)) + minutes;
    return fmt::format("{}T{:02}:{:02}:{:02}Z", inference::to_text(day), since_midnight / 60,
                       since_midnight % 60, seconds);
}

// Goes round one enclosure, survey after survey.
class Surveyor {
  public:
    Surveyor(const DemoStory& story, const json& told, const DemoEnclosure& enclosure,
             std::vector<Round> rounds, std::uint64_t seed)
        : story_(story), told_(told), enclosure_(enclosure), rounds_(std::move(rounds)), random_(seed) {}

    std::vector<record::Write> survey(Day day, int days_ago) {
        const std::string at = told_.at("at");
        const std::string id = fmt::format("{}-{}", enclosure_.scene.id, inference::to_text(day));
        std::vector<record::Write> writes = {making("survey", id, {{"begun_at", moment(day, at, 0)}})};
        int minute = 0;
        for (const Round& round : rounds_) {
            for (const DemoPlace& place : round.places) {
                const double truth = truth_at(place, round.meter, day, days_ago);
                ++minute;
                for (int i = 0; i < round.values; ++i) {
                    json fields = place.where;
                    fields.update({{"survey", id},
                                   {"quantity", round.meter.quantity()},
                                   {"meter", round.meter.id()},
                                   {"value", round.meter.read(truth, random_)},
                                   {"taken_at", moment(day, at, minute, 4 * i)}});
                    writes.push_back(making("reading", "", std::move(fields)));
                }
            }
        }
        writes.front().fields["ended_at"] = moment(day, at, minute + 1);
        return writes;
    }

  private:
    double truth_at(const DemoPlace& place, const Meter& meter, Day day, int days_ago) const {
        if (meter.is_thermometer()) return place.surface_c + enclosure_.warmer_k;
        double light = 0;
        for (std::size_t lamp = 0; lamp < place.by_lamp.size(); ++lamp) {
            light += place.by_lamp[lamp] * output_of(enclosure_.scene.lamps[lamp].id, day);
        }
        return light * enclosure_.light * through_leaves(told_, days_ago, place.spot);
    }

    // Of the document's output; a lamp that the record does not know neither fades nor differs.
    double output_of(const std::string& place, Day day) const {
        for (const DemoLamp& lamp : story_.lamps) {
            if (lamp.burns_in(enclosure_.scene.id, place, day)) return lamp.output_on(day);
        }
        return 1;
    }

    record::Write making(const std::string& kind, const std::string& id, json fields) const {
        record::Write write;
        write.kind = kind;
        write.id = id;
        write.site = story_.site.at("id");
        write.fields = std::move(fields);
        write.fields["enclosure"] = enclosure_.scene.id;
        return write;
    }

    const DemoStory& story_;
    const json& told_;
    const DemoEnclosure& enclosure_;
    std::vector<Round> rounds_;
    std::mt19937_64 random_;
};

}  // namespace

Expected<std::vector<record::Write>> demo_readings(const DemoStory& story, std::size_t part, Day today) {
    const json& told = story.surveys.at(part);
    const auto enclosure = story.enclosure(told.at("enclosure"));
    if (!enclosure) return tl::unexpected(enclosure.error());
    const auto places = DemoPlaces::of((*enclosure)->scene);
    if (!places) return tl::unexpected(places.error());
    std::vector<Round> rounds;
    for (const json& one : told.at("with")) {
        auto round = round_of(story, *places, one);
        if (!round) return tl::unexpected(round.error());
        rounds.push_back(std::move(*round));
    }
    Surveyor surveyor(story, told, **enclosure, std::move(rounds), story.seed + part);
    std::vector<record::Write> all;
    for (const int days_ago : told.at("days_ago")) {
        auto writes = surveyor.survey(today - std::chrono::days(days_ago), days_ago);
        all.insert(all.end(), std::make_move_iterator(writes.begin()), std::make_move_iterator(writes.end()));
    }
    return all;
}

}  // namespace dapple::server
