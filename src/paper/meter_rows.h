// Who measured, with which meter, and when that was calibrated. For this folder only.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "paper/account.h"
#include "paper/meters.h"

namespace dapple::paper {

// Of things of kind "reading" since a day; `people` are names by id.
std::vector<MeterRow> meter_rows(const std::vector<record::Thing>& readings, const std::string& since,
                                 const Meters& meters, const std::map<std::string, std::string>& people);

}  // namespace dapple::paper
