// What needs doing, computed from the record, most urgent first; each with the one action that settles it.
//
//   survey       its enclosure's interval (else the site's, else 30 days: common practice, no source) has passed since the
//                last reading
//   lamp         the date on which the place it serves leaves the animal's band (inference/life.h), by measurement, not
//                by calendar; listed from `ahead` before the early end of the date's 90 % interval
//   calibration  the meter's interval (else 12 months: common practice, no source) has passed since the last one
//   task         open tasks and accepted fixes; due on their date, or when they were made
#pragma once

#include <chrono>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "inference/life_date.h"
#include "record/lamp_lives.h"
#include "record/store.h"

namespace dapple::record {

enum class DueKind { survey, lamp, calibration, task };
std::string_view name(DueKind kind);

// The one action that settles it: which thing to act on, and how.
enum class Settling { survey_enclosure, replace_lamp, calibrate_meter, settle_task };
std::string_view name(Settling settling);

struct Due {
    DueKind kind;
    std::string site;
    std::string thing;      // id of the enclosure, lamp, meter or task
    std::string enclosure;  // id; empty: none
    std::string title;      // "Survey the north wall"
    std::string why;        // one sentence: "Last read 41 days ago; every 30 days."
    inference::Day due;
    int days_over;  // negative: still ahead
    Settling settling;
};
nlohmann::json to_json(const Due& due);

struct DueOptions {
    int ahead_days = 7;  // listed this long before they are due
    int survey_every_days = 30;
    int calibrate_every_months = 12;
};

Result<std::vector<Due>> due_list(const Store& store, LampLives& lives, const std::vector<std::string>& sites,
                                  inference::Day today, const DueOptions& options = {});

}  // namespace dapple::record
