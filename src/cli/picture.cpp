#include "cli/picture.h"

#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <memory>

#include "cli/columns.h"

namespace dapple::cli {

namespace {

struct Colour {
    double red;
    double green;
    double blue;
};

// Eleven equal steps of viridis (van der Walt & Smith 2015, released to the public domain by CC0): perceptually
// uniform, and readable by colour-blind eyes and in gray.
constexpr std::array<std::uint32_t, 11> viridis = {0x440154, 0x482475, 0x414487, 0x355f8d, 0x2a788e, 0x21918c,
                                                   0x22a884, 0x44bf70, 0x7ad151, 0xbddf26, 0xfde725};

Colour colour_at(double share) {
    const double position = std::clamp(share, 0.0, 1.0) * (viridis.size() - 1);
    const auto i = std::min(static_cast<std::size_t>(position), viridis.size() - 2);
    const double t = position - static_cast<double>(i);
    const auto mixed = [&](unsigned shift) {
        const double low = viridis[i] >> shift & 0xffU;
        const double high = viridis[i + 1] >> shift & 0xffU;
        return ((1 - t) * low + t * high) / 255;
    };
    return {mixed(16), mixed(8), mixed(0)};
}

// The next of 1, 2, 5, 10, 20 ... that is not below the value.
double round_up(double value) {
    if (!(value > 0)) return 1;
    const double power = std::pow(10, std::floor(std::log10(value)));
    for (const double step : {1.0, 2.0, 5.0}) {
        if (value <= step * power * (1 + 1e-12)) return step * power;
    }
    return 10 * power;
}

struct Release {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* pen) const { cairo_destroy(pen); }
};
using Surface = std::unique_ptr<cairo_surface_t, Release>;
using Pen = std::unique_ptr<cairo_t, Release>;

constexpr double left_margin = 64;
constexpr double top_margin = 52;
constexpr double bottom_margin = 52;
constexpr double scale_gap = 28;
constexpr double scale_width = 18;
constexpr double right_margin = 116;
constexpr double longest_side = 840;  // pixels of the plan itself

enum class Anchor { start, middle, end };

class Plan {
  public:
    Plan(const FieldOnLattice& field, const scene::Enclosure& enclosure)
        : field_(field),
          enclosure_(enclosure),
          per_metre_(longest_side / std::max(enclosure.size.x(), enclosure.size.y())),
          width_(enclosure.size.x() * per_metre_),
          height_(std::max(160.0, enclosure.size.y() * per_metre_)),
          highest_(round_up(*std::max_element(values().begin(), values().end()))),
          surface_(cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                              static_cast<int>(left_margin + width_ + right_margin),
                                              static_cast<int>(top_margin + height_ + bottom_margin))),
          pen_(cairo_create(surface_.get())) {
        cairo_select_font_face(pen_.get(), "sans", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
        cairo_set_font_size(pen_.get(), 13);
        ink({1, 1, 1});
        cairo_paint(pen_.get());
    }

    Expected<std::string> draw() {
        draw_cells();
        draw_title();
        draw_axes();
        draw_scale();
        for (const scene::Place& spot : enclosure_.spots) draw_spot(spot);
        std::string bytes;
        const auto append = [](void* to, const unsigned char* data, unsigned length) {
            static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
            return CAIRO_STATUS_SUCCESS;
        };
        const cairo_status_t status = cairo_surface_write_to_png_stream(surface_.get(), append, &bytes);
        if (status != CAIRO_STATUS_SUCCESS) {
            return refuse({"", "picture", cairo_status_to_string(status),
                           "an enclosure no more than 30 times as long as wide"});
        }
        return bytes;
    }

  private:
    const std::vector<double>& values() const { return field_.lots.front().values; }
    double x(double metres) const { return left_margin + metres * per_metre_; }
    double y(double metres) const { return top_margin + (enclosure_.size.y() - metres) * per_metre_; }

    void ink(const Colour& c) { cairo_set_source_rgb(pen_.get(), c.red, c.green, c.blue); }

    void write(double at_x, double at_y, const std::string& text, Anchor anchor) {
        cairo_text_extents_t size;
        cairo_text_extents(pen_.get(), text.c_str(), &size);
        const double back = anchor == Anchor::start ? 0 : anchor == Anchor::middle ? 0.5 : 1;
        cairo_move_to(pen_.get(), at_x - back * size.x_advance, at_y);
        cairo_show_text(pen_.get(), text.c_str());
    }

    void line(double x1, double y1, double x2, double y2) {
        cairo_move_to(pen_.get(), x1, y1);
        cairo_line_to(pen_.get(), x2, y2);
        cairo_stroke(pen_.get());
    }

    // Each place of the lattice colours what is nearest to it; nothing is smoothed away.
    void draw_cells() {
        cairo_save(pen_.get());
        cairo_rectangle(pen_.get(), x(0), y(enclosure_.size.y()), width_, enclosure_.size.y() * per_metre_);
        cairo_clip(pen_.get());
        cairo_set_antialias(pen_.get(), CAIRO_ANTIALIAS_NONE);
        const Lattice& lattice = field_.lattice;
        for (int j = 0; j < lattice.counts[1]; ++j) {
            for (int i = 0; i < lattice.counts[0]; ++i) {
                const auto at = static_cast<std::size_t>(j) * static_cast<std::size_t>(lattice.counts[0]) +
                                static_cast<std::size_t>(i);
                ink(colour_at(values()[at] / highest_));
                cairo_rectangle(pen_.get(), x((i - 0.5) * lattice.step), y((j + 0.5) * lattice.step),
                                lattice.step * per_metre_, lattice.step * per_metre_);
                cairo_fill(pen_.get());
            }
        }
        cairo_restore(pen_.get());
    }

    void draw_title() {
        ink({0, 0, 0});
        write(left_margin, 24, enclosure_.name.empty() ? enclosure_.id : enclosure_.name, Anchor::start);
        write(left_margin, 42,
              fmt::format("{}, receiver {}, {:g} cm above the floor; front wall below", quantity_name(),
                          light::to_text(field_.facing), 100 * field_.lattice.lowest),
              Anchor::start);
    }

    std::string quantity_name() const { return label(field_.lots.front().quantity); }

    void draw_axes() {
        ink({0, 0, 0});
        cairo_set_line_width(pen_.get(), 1);
        const double bottom = y(0);
        cairo_rectangle(pen_.get(), x(0), y(enclosure_.size.y()), width_, enclosure_.size.y() * per_metre_);
        cairo_stroke(pen_.get());
        const double step = tick_step();
        for (double at = 0; at <= enclosure_.size.x() + 1e-9; at += step) {
            line(x(at), bottom, x(at), bottom + 5);
            write(x(at), bottom + 19, fmt::format("{:g}", std::round(1e4 * at) / 100), Anchor::middle);
        }
        for (double at = 0; at <= enclosure_.size.y() + 1e-9; at += step) {
            line(x(0) - 5, y(at), x(0), y(at));
            write(x(0) - 9, y(at) + 5, fmt::format("{:g}", std::round(1e4 * at) / 100), Anchor::end);
        }
        write(x(0.5 * enclosure_.size.x()), bottom + 38, "x, cm", Anchor::middle);
        write(12, y(enclosure_.size.y()) - 8, "y, cm", Anchor::start);
    }

    // About eight ticks along the longer side.
    double tick_step() const {
        return round_up(std::max(enclosure_.size.x(), enclosure_.size.y()) / 8 * 0.999);
    }

    void draw_scale() {
        const double from = left_margin + width_ + scale_gap;
        constexpr int steps = 256;
        const double tall = enclosure_.size.y() * per_metre_ < 160 ? 160 : enclosure_.size.y() * per_metre_;
        for (int i = 0; i < steps; ++i) {
            ink(colour_at((i + 0.5) / steps));
            cairo_rectangle(pen_.get(), from, top_margin + tall * (1 - (i + 1.0) / steps), scale_width,
                            tall / steps + 1);
            cairo_fill(pen_.get());
        }
        ink({0, 0, 0});
        for (int i = 0; i <= 5; ++i) {
            const double at = top_margin + tall * (1 - i / 5.0);
            line(from + scale_width, at, from + scale_width + 5, at);
            write(from + scale_width + 9, at + 5, fmt::format("{:g}", highest_ * i / 5), Anchor::start);
        }
        write(from, top_margin - 10, quantity_name(), Anchor::start);
    }

    // A ring in black and white, to be seen on any colour, with the spot's name.
    void draw_spot(const scene::Place& spot) {
        const double at_x = x(spot.position.x());
        const double at_y = y(spot.position.y());
        for (const auto& [colour, width] :
             {std::pair{Colour{0, 0, 0}, 4.5}, std::pair{Colour{1, 1, 1}, 2.0}}) {
            ink(colour);
            cairo_set_line_width(pen_.get(), width);
            cairo_new_sub_path(pen_.get());  // no line from where the last word ended
            cairo_arc(pen_.get(), at_x, at_y, 6, 0, 2 * M_PI);
            cairo_stroke(pen_.get());
        }
        const std::string& name = spot.name.empty() ? spot.id : spot.name;
        const bool flip = at_x > left_margin + 0.7 * width_;
        cairo_text_extents_t size;
        cairo_text_extents(pen_.get(), name.c_str(), &size);
        const double start = flip ? at_x - 11 - size.x_advance : at_x + 11;
        cairo_set_source_rgba(pen_.get(), 1, 1, 1, 0.85);
        cairo_rectangle(pen_.get(), start - 2, at_y - 9, size.x_advance + 4, 18);
        cairo_fill(pen_.get());
        ink({0, 0, 0});
        write(start, at_y + 5, name, Anchor::start);
    }

    const FieldOnLattice& field_;
    const scene::Enclosure& enclosure_;
    double per_metre_;  // pixels
    double width_;
    double height_;
    double highest_;
    Surface surface_;
    Pen pen_;
};

}  // namespace

Expected<std::string> to_png(const FieldOnLattice& field, const scene::Enclosure& enclosure) {
    return Plan(field, enclosure).draw();
}

}  // namespace dapple::cli
