#include "inference/life.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "inference/life_calendar.h"
#include "inference/life_place.h"
#include "inference/life_posterior.h"
#include "inference/readings_table.h"

namespace dapple::inference {

namespace {

constexpr double meter_noise = 0.08;  // relative; engine.md section 6
constexpr double meter_floor_uvi = 0.05;
constexpr double least_share = 0.2;  // of a reading that is left to a lamp after others are taken off

// The readings of one lamp, with ids in place of names where there is a document.
struct Group {
    std::string enclosure;
    std::string lamp;
    std::optional<std::size_t> index;  // in the document
    std::vector<LifeReading> readings;
};

struct Groups {
    std::vector<Group> lamps;
    std::vector<std::string> notes;
};

bool is_of(const LifeReading& reading, const scene::Enclosure& enclosure) {
    const std::string named = normalised(reading.enclosure);
    return named.empty() || named == normalised(enclosure.id) || named == normalised(enclosure.name);
}

Expected<Groups> by_lamp(const std::vector<LifeReading>& readings, const scene::Enclosure* enclosure,
                         const std::string& file) {
    Groups groups;
    Problems problems;
    std::vector<std::string> strangers;
    for (LifeReading reading : readings) {
        std::optional<std::size_t> index;
        if (enclosure != nullptr) {
            if (!is_of(reading, *enclosure)) {
                strangers.push_back(reading.place);
                continue;
            }
            const auto lamp = lamp_index(*enclosure, reading, file);
            const auto spot = spot_id(*enclosure, reading, file);
            if (!lamp) problems.insert(problems.end(), lamp.error().begin(), lamp.error().end());
            if (!spot) problems.insert(problems.end(), spot.error().begin(), spot.error().end());
            if (!lamp || !spot) continue;
            index = *lamp;
            reading.lamp = enclosure->lamps[*lamp].id;
            reading.spot = *spot;
            reading.enclosure = enclosure->id;
        }
        auto group = std::find_if(groups.lamps.begin(), groups.lamps.end(), [&](const Group& g) {
            return g.lamp == reading.lamp && g.enclosure == reading.enclosure;
        });
        if (group == groups.lamps.end()) {
            group = groups.lamps.insert(group, {reading.enclosure, reading.lamp, index, {}});
        }
        group->readings.push_back(std::move(reading));
    }
    if (!problems.empty()) return tl::unexpected(problems);
    if (!strangers.empty()) {
        groups.notes.push_back(fmt::format("Readings of other enclosures than {} are left out: {}.",
                                           enclosure->id, fmt::join(strangers, ", ")));
    }
    if (groups.lamps.empty()) {
        return refuse({file, "", readings.empty() ? "no reading" : "no reading of this enclosure",
                       "at least one reading of a lamp"});
    }
    return groups;
}

std::string called(const LifeSpot& spot) {
    return spot.name.empty() ? "the place that was read" : spot.name;
}

// One lamp's life, step by step; each step adds to the answer.
class Follower {
  public:
    Follower(const Group& group, LifePlace place, LifeSeries series, const LifeOptions& options)
        : group_(group), place_(std::move(place)), series_(std::move(series)), options_(options) {}

    Expected<LampLife> follow() {
        answer_.enclosure = group_.enclosure;
        answer_.lamp = group_.lamp;
        answer_.name = place_.lamp_name.empty() ? group_.lamp : place_.lamp_name;
        answer_.kind = place_.history.kind;
        answer_.notes = series_.notes;
        answer_.span_h = series_.last_hours() - series_.first_hours();
        collect();
        if (spots_.empty()) {
            return refuse(
                {options_.file, group_.readings.front().place,
                 "no reading that is mostly the lamp " + group_.lamp + "'s own light",
                 "readings where this lamp, by its output in the document, gives more than all others"});
        }
        DecayOptions decay = {};
        decay.alpha_median = decay_prior(answer_.kind).median_per_1000h;
        decay.alpha_log_sd = decay_prior(answer_.kind).log_sd;
        decay.noise = meter_noise;
        posterior_ = std::make_unique<DecayPosterior>(readings_, decay);
        describe_decay();
        for (std::size_t s = 0; s < spots_.size(); ++s) add_read_spot(s);
        add_carried_spots();
        decide();
        return std::move(answer_);
    }

  private:
    // Whether what is read at a spot is mostly this lamp's light.
    bool follows_lamp(const LifeSpot& spot) const {
        return spot.own == 0 ? spot.others == 0 : spot.own > spot.others;
    }

    void collect() {
        for (const Survey& survey : series_.surveys) {
            LifeSpot& spot = place_.spots[survey.spot];
            if (!group_.index) spot.name = survey.spot;
            if (!follows_lamp(spot)) {
                answer_.notes.push_back(fmt::format(
                    "{} is left out: by the computed field the other lamps send {} more than this one does.",
                    survey.places, called(spot)));
                continue;
            }
            auto at = std::find(spots_.begin(), spots_.end(), survey.spot);
            if (at == spots_.end()) {
                at = spots_.insert(at, survey.spot);
                readings_.emplace_back();
                places_.emplace_back();
            }
            const auto s = static_cast<std::size_t>(at - spots_.begin());
            readings_[s].push_back(decay_reading(survey, spot.others));
            places_[s].push_back(survey.places);
            ++answer_.surveys;
        }
    }

    DecayReading decay_reading(const Survey& survey, double others) {
        const bool uvi = series_.quantity == spectrum::Quantity::uvi;
        double value = survey.value;
        if (uvi && value < meter_floor_uvi) {
            value = meter_floor_uvi;
            answer_.notes.push_back(
                fmt::format("{}: {:g} is taken as {:g} UVI, the least a hand-held meter tells.",
                            survey.places, survey.value, value));
        }
        const double own = std::max(value - others, least_share * value);
        const double floor = uvi ? meter_floor_uvi / meter_noise : 0;
        return {survey.hours / 1000, std::log(own), std::hypot(value, floor) / own};
    }

    void describe_decay() {
        answer_.alpha = posterior_->alpha_quantile(0.5);
        answer_.alpha_interval = {posterior_->alpha_quantile(0.05), posterior_->alpha_quantile(0.95)};
        answer_.half_life_h = 1000 * std::log(2.0) / answer_.alpha;
        if (answer_.surveys == 1) {
            answer_.notes.emplace_back(
                "One reading tells how bright the lamp is, not how it fades: the decay is that of lamps of "
                "its "
                "kind.");
        }
        const auto& spoiled = posterior_->spoiled();
        for (std::size_t s = 0; s < spoiled.size(); ++s) {
            for (std::size_t r = 0; r < spoiled[s].size(); ++r) {
                if (spoiled[s][r] > 0.5) answer_.set_aside.push_back({places_[s][r], spoiled[s][r]});
            }
        }
    }

    std::optional<double> low_of(const LifeSpot& spot) const {
        return options_.low ? options_.low : spot.low;
    }

    // The limit on this lamp's own light at a spot; says why where there is none.
    std::optional<double> own_limit(const LifeSpot& spot, double low) {
        if (low <= 0) {
            answer_.notes.push_back(
                fmt::format("The band at {} begins at zero: a fading lamp cannot leave it.", called(spot)));
            return std::nullopt;
        }
        if (low <= spot.others) {
            answer_.notes.push_back(fmt::format(
                "The other lamps alone keep {} in the band, by the computed field.", called(spot)));
            return std::nullopt;
        }
        if (spot.others > 0.05 * low) {
            answer_.notes.push_back(
                fmt::format("Of what is read at {}, {:.2g} comes from other lamps by the computed field and "
                            "is taken off.",
                            called(spot), spot.others));
        }
        return low - spot.others;
    }

    void add_read_spot(std::size_t s) {
        const LifeSpot& spot = place_.spots[spots_[s]];
        const auto low = low_of(spot);
        if (!low) return;
        add_spot(spots_[s], spot, *low, true, s, 1);
    }

    // Bask spots that nobody read but the lamp lights: the field's ratio to the spot with most readings.
    void add_carried_spots() {
        const auto most = std::max_element(readings_.begin(), readings_.end(),
                                           [](const auto& a, const auto& b) { return a.size() < b.size(); });
        const auto reference = static_cast<std::size_t>(most - readings_.begin());
        const double own = place_.spots[spots_[reference]].own;
        for (const auto& [id, spot] : place_.spots) {
            const auto low = low_of(spot);
            const bool read = std::find(spots_.begin(), spots_.end(), id) != spots_.end();
            if (read || !spot.bask || !low || own <= 0 || spot.own <= spot.others) continue;
            add_spot(id, spot, *low, false, reference, spot.own / own);
        }
    }

    void add_spot(const std::string& id, const LifeSpot& spot, double low, bool read, std::size_t reference,
                  double ratio) {
        SpotLife life = {id, spot.name, read, spot.bask, low, std::nullopt};
        limits_.push_back({});
        if (const auto own = own_limit(spot, low)) {
            limits_.back() = {reference, std::log(*own / ratio), read ? 0 : options_.carried_log_sd};
            life.leaving = leaving(limits_.back());
        }
        answer_.spots.push_back(std::move(life));
    }

    Leaving leaving(const Limit& limit) const {
        const auto hours_at = [&](double probability) {
            const double hours =
                1000 * posterior_->crossing_quantile(limit.spot, limit.log_value, probability, limit.blur);
            return std::max(hours, series_.first_hours());
        };
        Leaving leaving = {};
        leaving.hours = hours_at(0.5);
        leaving.from_start = leaving.hours <= series_.first_hours();
        leaving.date = series_.day_at(leaving.hours);
        leaving.early = series_.day_at(hours_at(0.05));
        leaving.late = series_.day_at(hours_at(0.95));
        leaving.beyond_limit = leaving.hours > series_.first_hours() + options_.most_span * answer_.span_h;
        leaving.probability_gone = posterior_->probability_below(limit.spot, series_.last_hours() / 1000,
                                                                 limit.log_value, limit.blur);
        return leaving;
    }

    // The spot that leaves first among those of a rank: bask spots that once were in the band, else all that were,
    // else all.
    void decide() {
        for (int rank = 0; rank < 3 && !answer_.decisive; ++rank) {
            for (std::size_t s = 0; s < answer_.spots.size(); ++s) {
                const SpotLife& spot = answer_.spots[s];
                const bool in_rank =
                    spot.leaving && (rank > 0 || spot.bask) && (rank > 1 || !spot.leaving->from_start);
                if (!in_rank) continue;
                if (!answer_.decisive || spot.leaving->hours < answer_.leaving()->hours) answer_.decisive = s;
            }
        }
        if (answer_.spots.empty()) {
            answer_.notes.emplace_back(
                "No band is known for what was read, so there is no date: give --low, or the enclosure with "
                "its "
                "animals.");
        }
        if (!answer_.decisive) return;
        answer_.calendar = compare_with_calendar(*posterior_, limits_[*answer_.decisive], series_,
                                                 *answer_.leaving(), options_);
    }

    const Group& group_;
    LifePlace place_;
    LifeSeries series_;
    const LifeOptions& options_;
    std::vector<std::string> spots_;  // ids of those read, in the order of posterior and readings
    std::vector<std::vector<DecayReading>> readings_;
    std::vector<std::vector<std::string>> places_;
    std::unique_ptr<DecayPosterior> posterior_;
    std::vector<Limit> limits_;  // of answer_.spots
    LampLife answer_ = {};
};

Expected<LampLife> life_of(const Group& group, const light::Field* field, const LifeOptions& options) {
    LifePlace place;
    if (group.index) {
        auto known = life_place(*field, *group.index, group.readings.front().quantity);
        if (!known) return tl::unexpected(known.error());
        place = std::move(*known);
    }
    if (options.hours_on) place.history.hours_on = *options.hours_on;
    if (options.kind) place.history.kind = *options.kind;
    if (place.history.hours_on <= 0) {
        return refuse({options.file, group.readings.front().place,
                       "a reading of the lamp " + group.lamp + ", which the document never switches on",
                       "hours_on above zero in the document, or --hours-on"});
    }
    auto series = series_of(group.readings, place.history, options.today, options.file);
    if (!series) return tl::unexpected(series.error());
    return Follower(group, std::move(place), std::move(*series), options).follow();
}

Expected<Life> lives_of(const Groups& groups, const light::Field* field, const LifeOptions& options) {
    Life life;
    life.notes = groups.notes;
    Problems problems;
    for (const Group& group : groups.lamps) {
        auto lamp = life_of(group, field, options);
        if (lamp) {
            life.lamps.push_back(std::move(*lamp));
        } else {
            problems.insert(problems.end(), lamp.error().begin(), lamp.error().end());
        }
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return life;
}

}  // namespace

Expected<Life> lamp_life(const std::vector<LifeReading>& readings, const scene::Enclosure* enclosure,
                         const LifeOptions& options) {
    const auto groups = by_lamp(readings, enclosure, options.file);
    if (!groups) return tl::unexpected(groups.error());
    std::unique_ptr<light::Field> field;
    if (enclosure != nullptr) field = std::make_unique<light::Field>(*enclosure);
    return lives_of(*groups, field.get(), options);
}

Expected<Life> lamp_life(const std::vector<LifeReading>& readings, const light::Field& field,
                         const LifeOptions& options) {
    const auto groups = by_lamp(readings, &field.enclosure(), options.file);
    if (!groups) return tl::unexpected(groups.error());
    return lives_of(*groups, &field, options);
}

}  // namespace dapple::inference
