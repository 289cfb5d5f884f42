#include "scene/photometric.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

namespace dapple::scene {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180;
constexpr int most_angles = 1000;

std::string trimmed(std::string_view text) {
    constexpr std::string_view space = " \t\r\n\f\v";
    const std::size_t first = text.find_first_not_of(space);
    if (first == std::string_view::npos) return "";
    return std::string(text.substr(first, text.find_last_not_of(space) - first + 1));
}

// Walks over the text line by line, then number by number, and knows the line of what it read last.
class Reader {
  public:
    explicit Reader(std::string_view text) : text_(text) {}

    std::ptrdiff_t line() const {
        const std::string_view before = text_.substr(0, last_);
        return std::count(before.begin(), before.end(), '\n') + 1;
    }

    std::optional<std::string> next_line() {
        if (position_ >= text_.size()) return std::nullopt;
        last_ = position_;
        const std::size_t end = std::min(text_.find('\n', position_), text_.size());
        position_ = std::min(end + 1, text_.size());
        return trimmed(text_.substr(last_, end - last_));
    }

    // The next word between spaces and commas; empty at the end.
    std::string_view next_word() {
        constexpr std::string_view separators = " \t\r\n\f\v,";
        last_ = std::min(text_.find_first_not_of(separators, position_), text_.size());
        position_ = std::min(text_.find_first_of(separators, last_), text_.size());
        return text_.substr(last_, position_ - last_);
    }

  private:
    std::string_view text_;
    std::size_t position_ = 0;
    std::size_t last_ = 0;  // where the last line or word began
};

class Ies {
  public:
    Ies(std::string_view text, std::string file, std::string place)
        : reader_(text), file_(std::move(file)), place_(std::move(place)) {}

    Expected<Photometry> read(std::string_view text) {
        if (!find_tilt()) return failed();
        if (!read_header()) return failed();
        Photometry table;
        if (!read_angles("vertical", vertical_, table.theta)) return failed();
        if (!read_angles("horizontal", horizontal_, table.phi)) return failed();
        if (!check_ranges(table)) return failed();
        if (!read_intensities(table)) return failed();
        if (!scale_to_the_aim(table)) return failed();
        if (!check_end()) return failed();
        complete_by_symmetry(table);
        for (double& angle : table.theta) angle *= rad_per_deg;
        for (double& angle : table.phi) angle *= rad_per_deg;
        table.text = text;
        return table;
    }

  private:
    // Header and keyword lines end with the TILT line, and so say nothing that the intensities need.
    bool find_tilt() {
        for (auto line = reader_.next_line(); line; line = reader_.next_line()) {
            if (!line->starts_with("TILT=")) continue;
            if (trimmed(line->substr(5)) == "NONE") return true;
            return fault(*line, "TILT=NONE: a lamp whose output does not change with its tilt");
        }
        return fault("no TILT line", "an IES LM-63 photometric file");
    }

    bool read_header() {
        double lamps = 0;
        double lumens = 0;
        double type = 0;
        double ignored = 0;
        if (!number("number of lamps", lamps) || !number("lumens", lumens) ||
            !number("candela multiplier", multiplier_)) {
            return false;
        }
        if (!count("number of vertical angles", vertical_) ||
            !count("number of horizontal angles", horizontal_)) {
            return false;
        }
        if (!number("photometric type", type)) return false;
        if (type != 1) {
            return fault(fmt::format("photometric type {}", type),
                         "1 (type C: angles about the downward axis); types A and B are for floodlights and "
                         "motor cars");
        }
        for (const char* what :
             {"units", "width", "length", "height", "ballast factor", "file type", "watts"}) {
            if (!number(what, ignored)) return false;
        }
        if (!(multiplier_ > 0)) return fault(fmt::format("candela multiplier {}", multiplier_), "above 0");
        return true;
    }

    bool read_angles(const std::string& which, int size, std::vector<double>& angles) {
        for (int i = 0; i < size; ++i) {
            double angle = 0;
            if (!number(which + " angle", angle)) return false;
            if (!angles.empty() && angle <= angles.back()) {
                return fault(fmt::format("{} angle {} after {}", which, angle, angles.back()),
                             "ascending angles");
            }
            angles.push_back(angle);
        }
        return true;
    }

    bool check_ranges(const Photometry& table) {
        if (table.theta.size() < 2 || table.theta.front() != 0 || table.theta.back() > 180) {
            return fault(
                fmt::format("vertical angles from {} to {}", table.theta.front(), table.theta.back()),
                "from 0 (the aim) to 90 or 180");
        }
        const double from = table.phi.front();
        const double to = table.phi.back();
        const bool known =
            (from == 0 && (to == 0 || to == 90 || to == 180 || to == 360)) || (from == 90 && to == 270);
        if (known) return true;
        return fault(fmt::format("horizontal angles from {} to {}", from, to),
                     "0 alone, 0 to 90, 0 to 180, 0 to 360, or 90 to 270");
    }

    bool read_intensities(Photometry& table) {
        table.intensity.reserve(table.theta.size() * table.phi.size());
        for (std::size_t i = 0; i < table.theta.size() * table.phi.size(); ++i) {
            double candela = 0;
            if (!number("intensity", candela)) return false;
            if (candela < 0) return fault(fmt::format("intensity {}", candela), "0 or more");
            table.intensity.push_back(candela);
        }
        return true;
    }

    bool check_end() {
        if (reader_.next_word().empty()) return true;
        return fault("more numbers than angles", "one intensity for each pair of angles");
    }

    // All planes meet on the aim, where they should agree; files differ there by noise, so the mean is taken.
    bool scale_to_the_aim(Photometry& table) {
        double sum = 0;
        for (std::size_t i = 0; i < table.phi.size(); ++i) sum += table.intensity[i * table.theta.size()];
        const double along_aim = sum / static_cast<double>(table.phi.size());
        if (!(along_aim > 1e-6) || along_aim > 1e12) {
            return fault(fmt::format("intensity {} at vertical angle 0", along_aim),
                         "above 0: the lamp's strength is read along its aim");
        }
        for (double& value : table.intensity) value /= along_aim;
        return true;
    }

    static void complete_by_symmetry(Photometry& table) {
        const std::size_t rows = table.theta.size();
        // Appends the planes phi -> `about` - phi behind the present ones, which end where the mirrored
        // begin.
        const auto mirror = [&](double about) {
            for (std::size_t i = table.phi.size() - 1; i-- > 0;) {
                table.phi.push_back(about - table.phi[i]);
                for (std::size_t j = 0; j < rows; ++j)
                    table.intensity.push_back(table.intensity[i * rows + j]);
            }
        };
        if (table.phi.size() == 1) return;
        if (table.phi.back() == 90) mirror(180);
        if (table.phi.back() == 180) mirror(360);
        if (table.phi.back() == 270) mirror(540);  // 90..270 goes on to 450; at() takes any full turn
    }

    bool number(const std::string& what, double& value) {
        std::string_view word = reader_.next_word();
        if (word.empty()) return fault("the end of the file", what);
        if (word.front() == '+') word.remove_prefix(1);
        const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
        if (error == std::errc() && end == word.data() + word.size() && std::abs(value) < 1e12) return true;
        return fault(trimmed(word).substr(0, 40), "a number: " + what);
    }

    bool count(const std::string& what, int& value) {
        double number_read = 0;
        if (!number(what, number_read)) return false;
        if (!(number_read >= 1 && number_read <= most_angles)) {
            return fault(fmt::format("{} {}", what, number_read), fmt::format("from 1 to {}", most_angles));
        }
        value = static_cast<int>(number_read);
        return true;
    }

    bool fault(std::string found, std::string allowed) {
        const std::string line = fmt::format("line {}", reader_.line());
        problem_ = {file_, place_.empty() ? line : place_ + " " + line, std::move(found), std::move(allowed)};
        return false;
    }

    tl::unexpected<Problems> failed() { return refuse(problem_); }

    Reader reader_;
    std::string file_;
    std::string place_;
    Problem problem_;
    double multiplier_ = 1;
    int vertical_ = 0;
    int horizontal_ = 0;
};

// Where x lies in an ascending table: the row below it and the share of the way to the next.
std::pair<std::size_t, double> bracket(const std::vector<double>& table, double x) {
    const auto above = std::upper_bound(table.begin() + 1, table.end() - 1, x);
    const auto row = static_cast<std::size_t>(above - table.begin()) - 1;
    return {row, std::clamp((x - table[row]) / (table[row + 1] - table[row]), 0.0, 1.0)};
}

}  // namespace

double Photometry::at(double theta_rad, double phi_rad) const {
    constexpr double slack = 1e-9;  // rounding of an angle computed from a direction
    if (theta.size() < 2 || theta_rad < theta.front() - slack || theta_rad > theta.back() + slack) return 0;
    const auto [row, down] = bracket(theta, theta_rad);
    const auto plane = [&, row = row, down = down](std::size_t i) {
        const double* values = intensity.data() + i * theta.size();
        return values[row] + down * (values[row + 1] - values[row]);
    };
    if (phi.size() == 1) return plane(0);
    constexpr double turn = 2 * std::numbers::pi;
    const double wrapped =
        phi.front() + (phi_rad - phi.front()) - turn * std::floor((phi_rad - phi.front()) / turn);
    const auto [left, across] = bracket(phi, wrapped);
    return plane(left) + across * (plane(left + 1) - plane(left));
}

Expected<Photometry> parse_ies(std::string_view text, const std::string& file, const std::string& place) {
    return Ies(text, file, place).read(text);
}

}  // namespace dapple::scene
