// Comma-separated values after RFC 4180, exactly as they stand: no trimming, no guessing (inference/readings_table.h is for
// what people type). For this folder only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dapple::record {

std::string csv_line(const std::vector<std::string>& cells);

// Nothing: quotes that do not close.
std::optional<std::vector<std::vector<std::string>>> parse_csv(std::string_view text);

// The shortest decimal number that reads back as the same double.
std::string number_text(double value);

}  // namespace dapple::record
