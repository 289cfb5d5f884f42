#include "cli/columns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

namespace dapple::cli {

namespace {

std::size_t width_of(const std::string& text) {
    // Bytes that continue a UTF-8 character take no place of their own.
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

}  // namespace

Columns::Columns(std::vector<std::string> header, std::vector<std::size_t> right) : right_(std::move(right)) {
    rows_.push_back(std::move(header));
}

void Columns::add(std::vector<std::string> row) {
    rows_.push_back(std::move(row));
}

std::string Columns::text() const {
    std::vector<std::size_t> widths(rows_.front().size(), 0);
    for (const auto& row : rows_) {
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
    }
    std::string text;
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string blank(widths[i] - width_of(row[i]), ' ');
            const bool right = std::find(right_.begin(), right_.end(), i) != right_.end();
            line += (i == 0 ? "" : "  ") + (right ? blank + row[i] : row[i] + blank);
        }
        const auto end = line.find_last_not_of(' ');
        text += (end == std::string::npos ? "" : line.substr(0, end + 1)) + "\n";
    }
    return text;
}

std::string plain_number(double value) {
    if (value == 0 || !std::isfinite(value)) return fmt::format("{:g}", value);
    const int digits = 2 - static_cast<int>(std::floor(std::log10(std::abs(value))));
    if (digits > 8) return fmt::format("{:.2e}", value);
    return fmt::format("{:.{}f}", value, std::max(0, digits));
}

std::string label(spectrum::Quantity quantity) {
    using spectrum::Quantity;
    switch (quantity) {
        case Quantity::uvi:
            return "UVI";
        case Quantity::erythemal:
            return "erythemal W/m2";
        case Quantity::d3:
            return "D3 W/m2";
        case Quantity::actinic:
            return "actinic W/m2";
        case Quantity::uvc:
            return "UVC W/m2";
        case Quantity::uvb:
            return "UVB W/m2";
        case Quantity::uva:
            return "UVA W/m2";
        case Quantity::lux:
            return "lux";
        case Quantity::irradiance:
            return "W/m2";
    }
    return {};
}

std::string wrapped(const std::string& text, std::size_t width, const std::string& margin) {
    std::istringstream words(text);
    std::string all;
    std::string line;
    for (std::string word; words >> word;) {
        if (!line.empty() && width_of(line) + 1 + width_of(word) > width) {
            all += margin + line + "\n";
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
    }
    return line.empty() ? all : all + margin + line + "\n";
}

}  // namespace dapple::cli
