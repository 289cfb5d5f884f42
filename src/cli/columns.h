// Text in columns, for the terminal.
#pragma once

#include <string>
#include <vector>

#include "spectrum/quantity.h"

namespace dapple::cli {

// A table with a header row; columns named in `right` (by position) are set flush right. UTF-8 counts by characters.
class Columns {
  public:
    explicit Columns(std::vector<std::string> header, std::vector<std::size_t> right = {});
    void add(std::vector<std::string> row);
    std::string text() const;

  private:
    std::vector<std::vector<std::string>> rows_;
    std::vector<std::size_t> right_;
};

// Three significant digits without an exponent where people read it: 0.004, 3.14, 21000.
std::string plain_number(double value);

// A quantity with its unit, as a heading: "UVI", "D3 W/m2".
std::string label(spectrum::Quantity quantity);

// A paragraph in lines of at most `width` characters, each after `margin`.
std::string wrapped(const std::string& text, std::size_t width, const std::string& margin);

}  // namespace dapple::cli
