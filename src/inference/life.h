// Lamp life: each lamp's own decay, the date on which the place it serves leaves the animal's band, and what
// replacing by measurement saves over replacing by the calendar.
//
// Output falls as exp(-alpha h) after burn-in (life_posterior.h). With the enclosure at hand the field takes off what
// other lamps send to a spot, as they stand in the document, and carries the decay to bask spots that nobody read.
// A date further out than six times the observed span is said to be so: ANSI/IES TM-21 projects no further.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "inference/life_readings.h"
#include "inference/life_series.h"
#include "light/field.h"
#include "scene/enclosure.h"

namespace dapple::inference {

struct LifeOptions {
    std::string file = "readings";   // its name in messages
    Day today = {};                  // for readings without a date
    std::optional<double> low = {};  // the band's low end, in the readings' quantity; else the document's
    std::optional<double> hours_on = {};  // a day; else the document's, else 12
    std::optional<LampKind> kind = {};    // else the document's
    double every_months = 12;             // the calendar rule compared with
    std::optional<double> price = {};     // of a lamp, in the user's money
    double most_span = 6;                 // observed spans a date may be out: TM-21
    double carried_log_sd = 0.1;          // of the field's ratio between two spots; our judgement
};

// A date with its 90 % interval; nothing where it is more than a century off.
struct Leaving {
    std::optional<Day> date;
    std::optional<Day> early;
    std::optional<Day> late;
    double hours;             // the lamp's, at the median
    bool beyond_limit;        // further out than the limit
    double probability_gone;  // that it was out at the last reading
    bool from_start;          // it was out, most likely, when it was first read
};

struct SpotLife {
    std::string id;
    std::string name;
    bool read;  // else carried by the field from one that was
    bool bask;
    double low;
    std::optional<Leaving> leaving;  // nothing: it never leaves on this lamp's account; the notes say why
};

// A lamp of this kind replaced whenever it leaves the band, against one replaced every so many months.
struct CalendarComparison {
    double every_months;
    double measured_months;     // from new to out of the band
    bool at_least;              // the measured life is cut at the limit, savings are at least these
    double lamps_saved_a_year;  // negative: the calendar is too slow
    std::optional<double> money_saved_a_year;
    double days_out_avoided_a_year;  // expected
};

struct DoubtfulReading {
    std::string reading;  // "line 3"
    double probability;   // that it is no reading of the lamp alone
};

struct LampLife {
    std::string enclosure;  // as the readings name it; may be empty
    std::string lamp;
    std::string name;
    LampKind kind;
    std::size_t surveys;  // used
    double alpha;         // median, per 1000 h
    std::pair<double, double> alpha_interval;
    double half_life_h;
    double span_h;  // from the first to the last reading used
    std::vector<SpotLife> spots;
    std::optional<std::size_t>
        decisive;  // of `spots`: the first to leave of the bask spots that once were in the band, else of all that were, else of all
    std::optional<CalendarComparison> calendar;
    std::vector<DoubtfulReading> set_aside;
    std::vector<std::string> notes;

    const Leaving* leaving() const {
        return decisive && spots[*decisive].leaving ? &*spots[*decisive].leaving : nullptr;
    }
};

struct Life {
    std::vector<LampLife> lamps;
    std::vector<std::string> notes;
};

// `enclosure` may be null: then lamps and spots are what the readings name.
Expected<Life> lamp_life(const std::vector<LifeReading>& readings, const scene::Enclosure* enclosure,
                         const LifeOptions& options = {});
// In an enclosure whose field is open already.
Expected<Life> lamp_life(const std::vector<LifeReading>& readings, const light::Field& field,
                         const LifeOptions& options = {});

nlohmann::json to_json(const Life& life);                 // contract.md, `life --json`
std::vector<std::string> in_words(const LampLife& lamp);  // sentences for the keeper

}  // namespace dapple::inference
