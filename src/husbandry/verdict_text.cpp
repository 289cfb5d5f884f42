#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "husbandry/verdict.h"
#include "husbandry/words.h"

namespace dapple::husbandry {

namespace {

// ---- an axis of UVI in characters
// ---------------------------------------------------------------------------
constexpr double axis_from = 0.05;
constexpr double axis_to = 20;
constexpr int axis_width = 60;
constexpr int line_width = 80;

int column(double uvi) {
    const double share =
        std::log(std::clamp(uvi, axis_from, axis_to) / axis_from) / std::log(axis_to / axis_from);
    return static_cast<int>(std::lround(share * (axis_width - 1)));
}

// One character a column; written out with UTF-8 pieces.
class Row {
  public:
    void fill(double from, double to, const char* piece) {
        for (int i = column(from); i <= column(to); ++i) put(i, piece);
    }
    void mark(double uvi, const char* piece) { put(column(uvi), piece); }
    void write(double uvi, const std::string& text) {  // ASCII, begins at the column
        int at = column(uvi);
        for (const char c : text) put(at++, std::string(1, c));
    }
    std::string text() const {
        std::string all;
        for (const std::string& piece : pieces_) all += piece;
        const auto end = all.find_last_not_of(' ');
        return end == std::string::npos ? "" : all.substr(0, end + 1);
    }

  private:
    void put(int i, const std::string& piece) {
        if (i >= 0 && i < axis_width) pieces_[static_cast<std::size_t>(i)] = piece;
    }
    std::vector<std::string> pieces_ = std::vector<std::string>(axis_width, " ");
};

constexpr const char* margin = "            ";

void write_row(std::ostream& out, const std::string& title, const Row& row) {
    out << fmt::format("  {:<9} {}", title, row.text()) << '\n';
}

void write_axis(std::ostream& out, const AnimalJudgement& animal) {
    Row numbers;
    Row axis;
    axis.fill(axis_from, axis_to, "·");
    for (const double tick : {0.1, 0.3, 1.0, 3.0, 10.0}) {
        numbers.write(tick, fmt::format("{:g}", tick));
        axis.mark(tick, "+");
    }
    write_row(out, "UVI", numbers);
    if (animal.band) axis.fill(animal.band->low, animal.band->high, "=");
    if (animal.band && animal.band->ceiling > animal.band->high) axis.mark(animal.band->ceiling, "!");
    write_row(out, "band", axis);
    if (animal.reach.quantiles.empty()) return;
    const auto at = [&](double share) { return animal.reach.quantiles.at(share); };
    Row reach;
    reach.fill(at(0), at(1), "-");
    reach.fill(at(0.1), at(0.9), "#");
    reach.mark(at(0.5), "|");
    write_row(out, "reach", reach);
}

// ---- words
// ----------------------------------------------------------------------------------------------------
std::string spoken(State state) {
    switch (state) {
        case State::low:
            return "in, low end";
        case State::high:
            return "in, high end";
        default:
            return std::string(name(state));
    }
}

std::size_t width(const std::string& text) {  // in characters, each of one column
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

// A mark under the axis, with the words beside it on the side that has room.
void write_mark(std::ostream& out, double uvi, const std::string& words) {
    const auto at = static_cast<std::size_t>(column(uvi));
    const std::size_t wide = width(words) + 1;
    if (at >= wide) {
        out << margin << std::string(at - wide, ' ') << words << " ^\n";
    } else {
        out << margin << std::string(at, ' ') << "^ " << words << '\n';
    }
}

void write_spots(std::ostream& out, const Judgement& judgement, const AnimalJudgement& animal) {
    for (const SpotReading& spot : judgement.spots) {
        const auto state = animal.states.find(spot.id);
        if (state == animal.states.end()) continue;
        std::string words = fmt::format("{}: {} UVI", spot.name, uvi_in_words(spot.uvi));
        if (spot.interval) {
            words += fmt::format(" ({}-{})", uvi_in_words(spot.interval->first),
                                 uvi_in_words(spot.interval->second));
        }
        write_mark(out, spot.uvi, words + ", " + spoken(state->second));
    }
}

// Breaks a text into lines; `first` stands before the first, as many blanks before the others.
void write_wrapped(std::ostream& out, const std::string& first, const std::string& text) {
    std::string line = first;
    bool has_word = false;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        if (has_word && width(line) + 1 + width(word) > line_width) {
            out << line << '\n';
            line = std::string(first.size(), ' ');
            has_word = false;
        }
        if (has_word) line += ' ';
        line += word;
        has_word = true;
    }
    out << line << '\n';
}

std::string answer(const Part& part) {
    if (!part.holds) return "-";
    std::string words = *part.holds ? "yes" : "NO";
    if (part.probability) words += fmt::format(" {:.0f}%", 100 * *part.probability);
    return words;
}

void write_part(std::ostream& out, const std::string& title, const Part& part) {
    write_wrapped(out, fmt::format("  {:<9} {:<4} ", title, answer(part)), part.why);
}

std::string heading(const AnimalJudgement& animal) {
    const Species& s = animal.species;
    std::string text = s.common_names.empty() ? "" : s.common_names.front() + ", ";
    text += fmt::format("{} (x{})", s.scientific_name, animal.count);
    if (s.estimate) text += " [estimate]";
    if (!s.zones.empty()) text += fmt::format(", zone {}", fmt::join(s.zones, "-"));
    if (!animal.band) return text + ", band unknown";
    text += fmt::format(", band {}-{} UVI", uvi_in_words(animal.band->low), uvi_in_words(animal.band->high));
    if (animal.band->ceiling > animal.band->high) {
        text += fmt::format(", ceiling {}", uvi_in_words(animal.band->ceiling));
    }
    return text;
}

void write_temperatures(std::ostream& out, const Species& s) {
    std::vector<std::string> wants;
    const auto want = [&](const char* where, const std::optional<Range>& range) {
        if (range) wants.push_back(fmt::format("{} {:g}-{:g}", where, range->first, range->second));
    };
    want("basking surface", s.basking_surface_c);
    want("warm air", s.air_warm_c);
    want("cool air", s.air_cool_c);
    want("night", s.night_c);
    if (!wants.empty()) write_wrapped(out, "  wants     ", fmt::format("{} °C", fmt::join(wants, ", ")));
}

void write_animal(std::ostream& out, const Judgement& judgement, const AnimalJudgement& animal) {
    out << '\n' << heading(animal) << '\n';
    write_axis(out, animal);
    write_spots(out, judgement, animal);
    const Verdict& v = animal.verdict;
    write_part(out, "basking", v.basking);
    write_part(out, "retreat", v.retreat);
    write_part(out, "ceiling", v.ceiling);
    write_part(out, "gradient", v.gradient);
    write_part(out, "together", v.together);
    write_part(out, "overall", v.overall);
    write_temperatures(out, animal.species);
}

}  // namespace

std::string to_text(const Judgement& judgement) {
    std::ostringstream out;
    out << judgement.enclosure << '\n';
    if (judgement.animals.empty()) {
        out << "No animal lives here, so there is no verdict.\n";
        for (const SpotReading& spot : judgement.spots) {
            out << fmt::format("  {}: {} UVI\n", spot.name, uvi_in_words(spot.uvi));
        }
    }
    for (const AnimalJudgement& animal : judgement.animals) write_animal(out, judgement, animal);
    if (!judgement.notes.empty()) out << '\n';
    for (const std::string& note : judgement.notes) write_wrapped(out, "* ", note);
    return out.str();
}

}  // namespace dapple::husbandry
