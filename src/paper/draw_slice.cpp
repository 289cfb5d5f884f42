#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>

#include "husbandry/words.h"
#include "paper/drawing.h"
#include "paper/outline.h"
#include "paper/shade.h"
#include "paper/text.h"

namespace dapple::paper {

namespace {

constexpr double left_axis = 20;
constexpr double bottom_axis = 22;
constexpr double title_height = 14;
constexpr double lamps_above = 12;  // lamps may hang above an open top

double nice_step(double length) {  // cm between marks, at most six of them
    for (const double step : {5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0}) {
        if (length / step <= 6) return step;
    }
    return 1000;
}

struct Area {
    double x, y, width, height;
    bool meets(const Area& o) const {
        return x < o.x + o.width && o.x < x + width && y < o.y + o.height && o.y < y + height;
    }
};

class Drawing {
  public:
    Drawing(cairo_t* pen, const Slice& slice, const scene::Enclosure& enclosure, const Scale& scale)
        : pen_(pen), slice_(slice), enclosure_(enclosure), scale_(scale) {}

    void draw() {
        cairo_set_line_join(pen_, CAIRO_LINE_JOIN_ROUND);
        draw_title();
        draw_shades();
        clip_to_box();
        draw_contours();
        draw_furniture();
        cairo_restore(pen_);
        draw_box();
        draw_lamps();
        draw_spots();
        draw_numbers();
    }

  private:
    double x(double metres) const { return left_axis + metres * scale_.per_metre; }
    double y(double metres) const {
        return title_height + lamps_above + (slice_.height - metres) * scale_.per_metre;
    }

    void ink(double gray) { cairo_set_source_rgb(pen_, gray, gray, gray); }

    void trace(const Line& line) {
        cairo_new_path(pen_);
        for (const Point& point : line) cairo_line_to(pen_, x(point.x), y(point.y));
    }

    void draw_title() {
        const std::string words =
            slice_.cut == Cut::plan
                ? fmt::format("From above, {:.0f} cm over the floor; back wall at the top", 100 * slice_.at)
                : fmt::format("From the front, {:.0f} cm behind the front wall", 100 * slice_.at);
        Text(pen_, words, {7.5, true, 0}, scale_.width).draw(left_axis, 0, 0, 1);
    }

    void draw_shades() {
        cairo_save(pen_);
        cairo_translate(pen_, x(0), y(slice_.height));
        shade(pen_, slice_, slice_.width * scale_.per_metre, slice_.height * scale_.per_metre);
        cairo_restore(pen_);
    }

    void clip_to_box() {
        cairo_save(pen_);
        cairo_rectangle(pen_, x(0), y(slice_.height), x(slice_.width) - x(0), y(0) - y(slice_.height));
        cairo_clip(pen_);
    }

    void draw_contours() {
        for (const double level : contour_levels) {
            for (const Line& line : contours(slice_, level)) {
                trace(line);
                ink(0);
                cairo_set_line_width(pen_, 0.5);
                cairo_stroke(pen_);
                longest_.push_back({level, line});
            }
        }
    }

    void draw_furniture() {
        for (const Outline& outline : outlines(slice_, enclosure_)) {
            trace(outline.line);
            cairo_close_path(pen_);
            if (outline.cut && !outline.leaves) {
                ink(1);
                cairo_fill_preserve(pen_);
                hatch(outline.line);
                take(outline.line);
            }
            ink(0.15);
            const std::array<double, 2> dashes = {outline.leaves ? 0.8 : 2.5, 1.6};
            cairo_set_dash(pen_, dashes.data(), outline.cut && !outline.leaves ? 0 : 2, 0);
            cairo_set_line_width(pen_, outline.cut ? 0.8 : 0.6);
            cairo_stroke(pen_);
            cairo_set_dash(pen_, nullptr, 0, 0);
        }
    }

    // No contour's number on what is cut.
    void take(const Line& line) {
        const auto [left, right] = std::minmax_element(
            line.begin(), line.end(), [](const Point& a, const Point& b) { return a.x < b.x; });
        const auto [low, high] = std::minmax_element(
            line.begin(), line.end(), [](const Point& a, const Point& b) { return a.y < b.y; });
        taken_.push_back({x(left->x), y(high->y), x(right->x) - x(left->x), y(low->y) - y(high->y)});
    }

    // Strokes at 45 degrees inside the current path, which stays.
    void hatch(const Line& line) {
        double least_x = 1e9, most_x = -1e9, least_y = 1e9, most_y = -1e9;
        for (const Point& point : line) {
            least_x = std::min(least_x, x(point.x));
            most_x = std::max(most_x, x(point.x));
            least_y = std::min(least_y, y(point.y));
            most_y = std::max(most_y, y(point.y));
        }
        const std::unique_ptr<cairo_path_t, void (*)(cairo_path_t*)> path(cairo_copy_path(pen_),
                                                                          cairo_path_destroy);
        cairo_save(pen_);
        cairo_clip(pen_);
        ink(0.6);
        cairo_set_line_width(pen_, 0.35);
        const double high = most_y - least_y;
        for (double at = least_x - high; at < most_x; at += 4) {
            cairo_move_to(pen_, at, most_y);
            cairo_line_to(pen_, at + high, least_y);
        }
        cairo_stroke(pen_);
        cairo_restore(pen_);
        cairo_new_path(pen_);
        cairo_append_path(pen_, path.get());
    }

    void draw_box() {
        ink(0);
        cairo_set_line_width(pen_, 1);
        cairo_rectangle(pen_, x(0), y(slice_.height), x(slice_.width) - x(0), y(0) - y(slice_.height));
        cairo_stroke(pen_);
        cairo_set_line_width(pen_, 0.5);
        const Face small{6, false, 0.1};
        const double step = nice_step(100 * std::max(slice_.width, slice_.height));
        for (double cm = 0; cm <= 100 * slice_.width + 1e-6; cm += step) {
            cairo_move_to(pen_, x(cm / 100), y(0));
            cairo_rel_line_to(pen_, 0, 3);
            cairo_stroke(pen_);
            const Text number(pen_, fmt::format("{:g}", cm), small);
            number.draw(x(cm / 100) - number.width() / 2, y(0) + 3.5);
        }
        for (double cm = 0; cm <= 100 * slice_.height + 1e-6; cm += step) {
            cairo_move_to(pen_, x(0), y(cm / 100));
            cairo_rel_line_to(pen_, -3, 0);
            cairo_stroke(pen_);
            const Text number(pen_, fmt::format("{:g}", cm), small);
            number.draw(x(0) - 4.5 - number.width(), y(cm / 100) - number.height() / 2);
        }
        const Text unit(pen_, "cm", small);
        unit.draw(x(slice_.width) - unit.width(), y(0) + 11);
    }

    // A word in a white disc or box, remembered so that others keep off.
    void mark(double at_x, double at_y, const std::string& word, bool round) {
        const Text text(pen_, word, {6.5, true, 0});
        const double half = std::max(4.5, text.width() / 2 + 1.5);
        ink(1);
        cairo_new_path(pen_);
        if (round) {
            cairo_arc(pen_, at_x, at_y, half, 0, 2 * std::numbers::pi);
        } else {
            cairo_rectangle(pen_, at_x - half, at_y - 4.5, 2 * half, 9);
        }
        cairo_fill_preserve(pen_);
        ink(0);
        cairo_set_line_width(pen_, 0.8);
        cairo_stroke(pen_);
        text.draw(at_x - text.width() / 2, at_y - text.height() / 2);
        taken_.push_back({at_x - half, at_y - half, 2 * half, 2 * half});
    }

    void draw_lamps() {
        for (std::size_t i = 0; i < enclosure_.lamps.size(); ++i) {
            const scene::Lamp& lamp = enclosure_.lamps[i];
            trace(lamp_outline(slice_, lamp));
            cairo_close_path(pen_);
            ink(1);
            cairo_fill_preserve(pen_);
            ink(0);
            cairo_set_line_width(pen_, 1);
            cairo_stroke(pen_);
            const Point at = on_paper(slice_, lamp.centre);
            const double at_y = std::max(y(at.y), title_height + 4);
            const double aside = is_near_a_spot(x(at.x), at_y) ? 13 : 0;
            mark(x(at.x) + aside, at_y - aside / 2, letter(i), false);
        }
    }

    bool is_near_a_spot(double at_x, double at_y) const {
        return std::any_of(enclosure_.spots.begin(), enclosure_.spots.end(), [&](const scene::Place& spot) {
            const Point on = on_paper(slice_, spot.position);
            return std::hypot(x(on.x) - at_x, y(on.y) - at_y) < 10;
        });
    }

    static std::string letter(std::size_t i) {
        return i < 26 ? std::string(1, static_cast<char>('A' + i)) : fmt::format("L{}", i + 1);
    }

    void draw_spots() {
        for (std::size_t i = 0; i < enclosure_.spots.size(); ++i) {
            const Point at = on_paper(slice_, enclosure_.spots[i].position);
            mark(x(at.x), y(at.y) - (slice_.cut == Cut::section ? 4.5 : 0), std::to_string(i + 1), true);
        }
    }

    // Each contour's number where there is room on it, from its middle outwards.
    void draw_numbers() {
        for (const auto& [level, line] : longest_) {
            double length = 0;
            for (std::size_t i = 1; i < line.size(); ++i)
                length += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
            if (length * scale_.per_metre < 22) continue;
            const Text text(pen_, fmt::format("{:g}", level), {6.5, false, 0});
            for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9}) {
                const Point& at =
                    line[static_cast<std::size_t>(share * static_cast<double>(line.size() - 1))];
                const Area area{x(at.x) - text.width() / 2 - 1, y(at.y) - 3.6, text.width() + 2, 7.2};
                if (!fits(area)) continue;
                ink(1);
                cairo_rectangle(pen_, area.x, area.y, area.width, area.height);
                cairo_fill(pen_);
                text.draw(area.x + 1, y(at.y) - text.height() / 2);
                taken_.push_back(area);
                break;
            }
        }
    }

    bool fits(const Area& area) const {
        if (area.x < x(0) + 1 || area.x + area.width > x(slice_.width) - 1 || area.y < y(slice_.height) + 1 ||
            area.y + area.height > y(0) - 1)
            return false;
        return std::none_of(taken_.begin(), taken_.end(),
                            [&](const Area& other) { return area.meets(other); });
    }

    struct Contour {
        double level;
        Line line;
    };

    cairo_t* pen_;
    const Slice& slice_;
    const scene::Enclosure& enclosure_;
    const Scale& scale_;
    std::vector<Contour> longest_;
    std::vector<Area> taken_;
};

}  // namespace

Scale scaled(const Slice& slice, double per_metre) {
    return {per_metre, left_axis + slice.width * per_metre + 4,
            title_height + lamps_above + slice.height * per_metre + bottom_axis};
}

Scale scale_of(const Slice& slice, double most_width, double most_height) {
    return scaled(slice, std::min((most_width - left_axis - 4) / slice.width,
                                  (most_height - title_height - lamps_above - bottom_axis) / slice.height));
}

void draw_slice(cairo_t* pen, const Slice& slice, const scene::Enclosure& enclosure, const Scale& scale) {
    Drawing(pen, slice, enclosure, scale).draw();
}

std::string described(const Slice& slice, const scene::Enclosure& enclosure) {
    const auto highest = std::max_element(slice.uvi.begin(), slice.uvi.end());
    const auto at = static_cast<int>(highest - slice.uvi.begin());
    const double x = 100 * slice.width * (at % slice.columns) / (slice.columns - 1);
    const int row = at / slice.columns;
    const double up = 100 * slice.height * row / (slice.rows - 1);
    return fmt::format(
        "{} of {}, {:.0f} by {:.0f} cm, with contours of the UV index; at its highest {} at {:.0f}, {:.0f} "
        "cm.",
        slice.cut == Cut::plan ? fmt::format("Plan {:.0f} cm above the floor", 100 * slice.at)
                               : fmt::format("Section {:.0f} cm behind the front", 100 * slice.at),
        enclosure.name.empty() ? enclosure.id : enclosure.name, 100 * slice.width, 100 * slice.height,
        husbandry::uvi_in_words(*highest), x, up);
}

}  // namespace dapple::paper
