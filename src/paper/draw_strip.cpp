#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "husbandry/words.h"
#include "paper/drawing.h"
#include "paper/text.h"

namespace dapple::paper {

namespace {

using husbandry::AnimalJudgement;
using husbandry::Judgement;
using husbandry::SpotReading;
using husbandry::uvi_in_words;

// A logarithmic axis from the floor of a hand-held meter to more than any animal seeks.
constexpr double axis_from = 0.05;
constexpr double axis_to = 20;
constexpr std::array ticks = {0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0};
constexpr double names = 120;   // width of the words at the left
constexpr double numbers = 92;  // and at the right
constexpr double row_height = 13;
constexpr double above = 13;
constexpr double below = 16;
constexpr std::size_t most_dots = 40;

std::vector<const SpotReading*> own_spots(const Judgement& judgement, const AnimalJudgement& animal) {
    std::vector<const SpotReading*> spots;
    for (const SpotReading& spot : judgement.spots) {
        if (animal.states.contains(spot.id)) spots.push_back(&spot);
    }
    return spots;
}

class Strip {
  public:
    Strip(cairo_t* pen, double width, const EnclosureAccount& account, const AnimalJudgement& animal)
        : pen_(pen), width_(width), account_(account), animal_(animal) {}

    void draw() {
        const auto spots = own_spots(*account_.judgement, animal_);
        rows_ = static_cast<double>(spots.size()) + 1;
        draw_band();
        draw_axis();
        draw_reach();
        double y = above + 1.5 * row_height;
        for (const SpotReading* spot : spots) {
            draw_spot(*spot, y);
            y += row_height;
        }
    }

  private:
    double x(double uvi) const {
        const double share =
            std::log(std::clamp(uvi, axis_from, axis_to) / axis_from) / std::log(axis_to / axis_from);
        return names + share * (width_ - names - numbers);
    }
    double foot() const { return above + rows_ * row_height; }

    void ink(double gray) { cairo_set_source_rgb(pen_, gray, gray, gray); }
    void line(double x1, double y1, double x2, double y2, double thick, double gray = 0) {
        ink(gray);
        cairo_set_line_width(pen_, thick);
        cairo_move_to(pen_, x1, y1);
        cairo_line_to(pen_, x2, y2);
        cairo_stroke(pen_);
    }
    void label(const std::string& words, double y) {
        const Text text(pen_, words, {7.5, false, 0}, names - 8);
        text.draw(0, y - text.height(0, 1) / 2, 0, 1);
    }
    void number(const std::string& words, double y) {
        const Text text(pen_, words, {7.5, false, 0}, numbers - 8);
        text.draw(width_ - numbers + 8, y - text.height(0, 1) / 2, 0, 1);
    }

    void draw_band() {
        if (!animal_.band) return;
        const auto& band = *animal_.band;
        ink(0.86);
        cairo_rectangle(pen_, x(band.low), above - 2, x(band.high) - x(band.low), foot() - above + 2);
        cairo_fill(pen_);
        line(x(band.low), above - 2, x(band.low), foot(), 0.8);
        line(x(band.high), above - 2, x(band.high), foot(), 0.8);
        const Text text(pen_, fmt::format("band {} to {}", uvi_in_words(band.low), uvi_in_words(band.high)),
                        {7.5, true, 0});
        const double middle = (x(band.low) + x(band.high)) / 2 - text.width() / 2;
        text.draw(std::clamp(middle, names, width_ - numbers - text.width()), 0);
        if (band.ceiling <= band.high) return;
        const std::array<double, 2> dashes = {2, 1.5};
        cairo_set_dash(pen_, dashes.data(), 2, 0);
        line(x(band.ceiling), above - 2, x(band.ceiling), foot(), 0.8);
        cairo_set_dash(pen_, nullptr, 0, 0);
    }

    void draw_axis() {
        line(names, foot(), width_ - numbers, foot(), 0.6);
        for (const double tick : ticks) {
            line(x(tick), foot(), x(tick), foot() + 3, 0.6);
            const Text text(pen_, fmt::format("{:g}", tick), {6.5, false, 0});
            text.draw(x(tick) - text.width() / 2, foot() + 4);
        }
        label("UVI", foot() + 8);
    }

    void draw_reach() {
        const double y = above + 0.5 * row_height;
        label("all it can reach", y);
        const auto& quantiles = animal_.reach.quantiles;
        if (quantiles.empty()) return number("nothing", y);
        const auto at = [&](double share) { return quantiles.at(share); };
        line(x(at(0)), y, x(at(1)), y, 0.8);
        line(x(at(0.1)), y, x(at(0.9)), y, 4, 0.35);
        line(x(at(0.5)), y - 4, x(at(0.5)), y + 4, 1.6);
        number(fmt::format("{} to {}", uvi_in_words(at(0)), uvi_in_words(at(1))), y);
    }

    // What was read as open rings, what is predicted as a diamond with its interval.
    void draw_spot(const SpotReading& spot, double y) {
        label(spot.name, y);
        std::size_t dots = 0;
        for (const ReadingRow& reading : account_.readings) {
            if (reading.where != spot.name || reading.quantity != spectrum::Quantity::uvi) continue;
            if (++dots > most_dots) break;
            ink(0);
            cairo_set_line_width(pen_, 0.6);
            cairo_new_path(pen_);
            cairo_arc(pen_, x(reading.value), y, 2, 0, 2 * std::numbers::pi);
            cairo_stroke(pen_);
        }
        std::string words = uvi_in_words(spot.uvi);
        if (spot.interval) {
            line(x(spot.interval->first), y, x(spot.interval->second), y, 1);
            words += fmt::format(" ({} to {})", uvi_in_words(spot.interval->first),
                                 uvi_in_words(spot.interval->second));
        }
        ink(0);
        const double at = x(spot.uvi);
        cairo_new_path(pen_);
        cairo_move_to(pen_, at - 3.2, y);
        cairo_line_to(pen_, at, y - 3.2);
        cairo_line_to(pen_, at + 3.2, y);
        cairo_line_to(pen_, at, y + 3.2);
        cairo_close_path(pen_);
        cairo_fill(pen_);
        number(words, y);
    }

    cairo_t* pen_;
    double width_;
    const EnclosureAccount& account_;
    const AnimalJudgement& animal_;
    double rows_ = 0;
};

}  // namespace

double strip_height(const Judgement& judgement, const AnimalJudgement& animal) {
    return above + (1 + static_cast<double>(own_spots(judgement, animal).size())) * row_height + below;
}

void draw_strip(cairo_t* pen, double width, const EnclosureAccount& account, const AnimalJudgement& animal) {
    Strip(pen, width, account, animal).draw();
}

std::string described(const Judgement& judgement, const AnimalJudgement& animal) {
    std::string words = "UVI of " + animal.species.scientific_name + ".";
    if (animal.band)
        words +=
            fmt::format(" Band {} to {}.", uvi_in_words(animal.band->low), uvi_in_words(animal.band->high));
    for (const SpotReading* spot : own_spots(judgement, animal))
        words += fmt::format(" {}: {}.", spot->name, uvi_in_words(spot->uvi));
    return words;
}

}  // namespace dapple::paper
