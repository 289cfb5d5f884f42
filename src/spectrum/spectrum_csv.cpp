// A user's table of a lamp's spectrum, read forgivingly; every fault is told with its line.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "spectrum/lamp_spectrum.h"

namespace dapple::spectrum {

namespace {

constexpr std::size_t most_rows = 1'000'000;
constexpr std::size_t most_problems =
    20;  // a wrong file has as many faults as lines; these are enough to see why

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blank(" \t\v\f\0\"'", 7);  // spreadsheets put cells in quotes
    const auto begin = text.find_first_not_of(blank);
    if (begin == std::string_view::npos) return {};
    return text.substr(begin, text.find_last_not_of(blank) - begin + 1);
}

// Foreign text made fit for a message: short, and plain ASCII.
std::string quoted(std::string_view text) {
    constexpr std::size_t most = 40;
    std::string result(text.substr(0, most));
    for (char& c : result) {
        if (c < ' ' || c > '~') c = '?';
    }
    return '"' + result + (text.size() > most ? "...\"" : "\"");
}

char separator_of(std::string_view line) {
    for (const char candidate : {';', '\t', ','}) {
        if (line.find(candidate) != std::string_view::npos) return candidate;
    }
    return ' ';
}

std::vector<std::string_view> cells_of(std::string_view line, char separator) {
    std::vector<std::string_view> cells;
    for (std::size_t begin = 0; begin <= line.size();) {
        const auto end = std::min(line.find(separator, begin), line.size());
        const auto cell = trimmed(line.substr(begin, end - begin));
        if (separator != ' ' || !cell.empty()) cells.push_back(cell);
        begin = end + 1;
    }
    while (!cells.empty() && cells.back().empty()) cells.pop_back();
    return cells;
}

// A number, infinite where it is too large to be one; nothing where the cell is no number.
std::optional<double> number(std::string_view cell, bool decimal_comma) {
    constexpr std::size_t longest = 64;
    if (cell.starts_with('+')) cell.remove_prefix(1);
    if (cell.empty() || cell.size() > longest || cell.starts_with('+')) return std::nullopt;
    std::string text(cell);
    if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (end != text.data() + text.size()) return std::nullopt;
    if (error == std::errc::result_out_of_range) {
        // Too large, or too near zero to be told from it: the sign of the exponent says which.
        const bool tiny = text.find("e-") != std::string::npos || text.find("E-") != std::string::npos;
        return tiny ? 0.0 : HUGE_VAL;
    }
    if (error != std::errc()) return std::nullopt;
    return value;
}

class Reader {
  public:
    explicit Reader(const std::string& file) : file_(file) {}

    void read(std::string_view text) {
        constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
        if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
        while (!text.empty() && !full()) {
            const auto end = std::min(text.find_first_of("\r\n"), text.size());
            ++line_;
            read_line(text.substr(0, end));
            const bool pair = text.substr(end).starts_with("\r\n");
            text.remove_prefix(std::min(end + (pair ? 2 : 1), text.size()));
        }
    }

    Expected<LampSpectrum> result() {
        check_whole();
        if (!problems_.empty()) return tl::unexpected(problems_);
        if (nm_.front() > nm_.back()) {
            std::reverse(nm_.begin(), nm_.end());
            std::reverse(power_.begin(), power_.end());
        }
        const Spectrum relative = on_the_axis();
        if (!(relative > 0).any()) {
            problem("", "no power between 200 and 2500 nm",
                    "wavelengths in nm, with some power between 200 and 2500 nm");
            return tl::unexpected(problems_);
        }
        // Scaled to a largest value of 1, so that no table's own scale can overflow a sum.
        return LampSpectrum{stem(), stem(), relative / relative.maxCoeff(), "table " + file_};
    }

  private:
    bool full() const { return problems_.size() >= most_problems || nm_.size() > most_rows; }

    void problem(const std::string& place, const std::string& found, const std::string& allowed) {
        problems_.push_back({file_, place, found, allowed});
    }

    void fault(const std::string& found, const std::string& allowed) {
        problem("line " + std::to_string(line_), found, allowed);
    }

    void read_line(std::string_view line) {
        const auto content = trimmed(line);
        if (content.empty() || content.front() == '#') return;
        const char separator = separator_of(line);
        const auto cells = cells_of(line, separator);
        if (cells.empty()) return;
        const bool decimal_comma = separator == ';' || separator == '\t';
        const auto nm = number(cells[0], decimal_comma);
        if (!nm && nm_.empty()) return;  // a header row
        if (!nm) return fault(quoted(cells[0]), "a wavelength in nm");
        if (cells.size() != 2) {
            return fault(
                std::to_string(cells.size()) + " column" + (cells.size() == 1 ? "" : "s"),
                "two: wavelength in nm, relative power (decimal commas only where semicolons or tabs "
                "part the columns)");
        }
        const auto power = number(cells[1], decimal_comma);
        if (!std::isfinite(*nm) || *nm <= 0) return fault(quoted(cells[0]), "a finite wavelength above 0 nm");
        if (!power) return fault(quoted(cells[1]), "a number, the relative power");
        if (!std::isfinite(*power) || *power < 0) {
            return fault(quoted(cells[1]), "a finite power, zero or more");
        }
        add(*nm, *power, cells[0]);
    }

    void add(double nm, double power, std::string_view as_written) {
        if (!nm_.empty() && !continues(nm)) {
            return fault(quoted(as_written) + " after " + number_text(nm_.back()),
                         "wavelengths that rise (or fall) all the way, each once");
        }
        nm_.push_back(nm);
        power_.push_back(power);
    }

    bool continues(double nm) const {
        if (nm_.size() == 1) return nm != nm_.back();
        const bool rising = nm_[1] > nm_[0];
        return rising ? nm > nm_.back() : nm < nm_.back();
    }

    static std::string number_text(double value) {
        std::array<char, 32> text{};
        const auto written = std::to_chars(text.data(), text.data() + text.size(), value);
        return {text.data(), written.ptr};
    }

    void check_whole() {
        if (!problems_.empty()) return;
        const auto rows = nm_.size();
        if (rows < 2) {
            const std::string noun = rows == 1 ? " row" : " rows";
            problem("", std::to_string(rows) + noun + " of numbers",
                    "at least two rows: wavelength in nm, relative power");
            return;
        }
        if (rows > most_rows) problem("", "more than 1000000 rows", "at most 1000000 rows");
        if (*std::max_element(power_.begin(), power_.end()) <= 0) {
            problem("", "no power at any wavelength", "some power above zero");
        }
    }

    // Scaled before anything is added up: a table's own scale may be as large as a number can be.
    Spectrum on_the_axis() {
        const double largest = *std::max_element(power_.begin(), power_.end());
        for (double& power : power_) power /= largest;
        return resample(nm_, power_, Outside::zero);
    }

    std::string stem() const {
        const auto slash = file_.find_last_of("/\\");
        const auto name = slash == std::string::npos ? file_ : file_.substr(slash + 1);
        return name.substr(0, name.find_last_of('.'));
    }

    std::string file_;
    int line_ = 0;
    std::vector<double> nm_, power_;
    Problems problems_;
};

}  // namespace

Expected<LampSpectrum> parse_spectrum_csv(std::string_view text, const std::string& file) {
    Reader reader(file);
    reader.read(text);
    return reader.result();
}

}  // namespace dapple::spectrum
