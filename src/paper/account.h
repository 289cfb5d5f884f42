// What a report accounts for, gathered and judged before anything is drawn: plain values.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "husbandry/verdict.h"
#include "inference/readings.h"
#include "light/field.h"
#include "paper/shopping.h"
#include "paper/slice.h"
#include "record/moment.h"

namespace dapple::paper {

struct ReadingRow {  // a set of repeats
    std::string day;
    std::string where;
    std::optional<spectrum::Quantity> quantity;  // nothing: a temperature
    std::vector<double> values;
    double value;    // their median
    double scatter;  // one standard deviation of a single value; 0: not known
    std::string meter;
    std::optional<husbandry::State> state;  // of the UVI, for the animal whose spot it is
    std::string remark;                     // why it was left out of the fit
};

struct LampRow {
    std::string name;
    std::string what;
    std::string installed;        // day
    std::optional<double> hours;  // burned by the day of the report
    std::optional<double> hours_on;
    std::optional<double> loses;  // share of its output in 1000 h
    std::optional<std::pair<double, double>> loses_interval;
    std::optional<inference::Leaving> leaves;
    std::string remark;
};

struct DoneRow {  // a task that was settled
    std::string day;
    std::string title;
    std::string outcome;
    bool fix;  // it changed the enclosure's document
};

struct MeterRow {
    std::string name;
    std::string model;
    std::string calibrated;  // "2026-01-12, factor 1.03, certificate 17"
    std::string last_used;   // day
    std::size_t readings;
    std::vector<std::string> people;  // who read it
};

// In or out of the band by the keeper's own readings, and since when.
struct Standing {
    std::string animal;
    std::string where;
    husbandry::State state;
    double value;
    std::string read;          // day
    std::string since;         // the first of the surveys that agree without a break
    bool since_first = false;  // that is the first there is: perhaps longer
};

struct EnclosureAccount {
    std::string id;
    std::string name;
    std::string room;
    std::optional<scene::Enclosure> enclosure;      // nothing: `problems` says why
    std::optional<husbandry::Judgement> judgement;  // likewise
    Problems problems;
    std::vector<std::string> fitted_from;  // days of the readings it was fitted to; none: as computed
    std::vector<ReadingRow> readings;      // of the period, newest first
    std::vector<Standing> standings;
    std::vector<LampRow> lamps;
    std::vector<DoneRow> done;
    std::vector<MeterRow> meters;
    std::vector<Slice> slices;
};

struct Account {
    std::string title;  // of the place: the sites' names
    record::Moment made;
    std::string since;  // day; empty: from the beginning
    std::vector<EnclosureAccount> enclosures;
    std::vector<LampNeeded> lamps_needed;
    bool from_record = true;  // else from documents
};

// Judges the enclosure in the light fitted to `sets` (in the computed light where there are none) and cuts its slices.
// Answers the computed field, for what else is asked of it; nothing where the enclosure cannot be judged.
std::shared_ptr<const light::Field> judge_into(EnclosureAccount& account,
                                               const std::vector<inference::Reading>& sets);

// A row of the account for a set of readings; the state as the judgement's animals see it.
ReadingRow row_of(const inference::Reading& set, const EnclosureAccount& account);

// From all UVI readings at basking spots, oldest first.
std::vector<Standing> standings_of(const std::vector<inference::Reading>& sets,
                                   const EnclosureAccount& account);

}  // namespace dapple::paper
