#include "paper/text.h"

#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>

namespace dapple::paper {

namespace {

double points(int pango_units) {
    return static_cast<double>(pango_units) / PANGO_SCALE;
}

std::string valid(const std::string& words) {
    const std::unique_ptr<char, void (*)(void*)> made(
        g_utf8_make_valid(words.data(), static_cast<gssize>(words.size())), g_free);
    return made.get();
}

PangoAlignment pango(Align align) {
    if (align == Align::left) return PANGO_ALIGN_LEFT;
    return align == Align::right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_CENTER;
}

void set_font(PangoLayout* layout, const Face& face) {
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family_static(font, "DejaVu Sans");
    pango_font_description_set_absolute_size(font, face.size * PANGO_SCALE);
    pango_font_description_set_weight(font, face.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

// Metrics of the outlines themselves, so that the same words break alike everywhere.
void set_unhinted(PangoLayout* layout) {
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(pango_layout_get_context(layout), FALSE);
    pango_layout_context_changed(layout);
}

}  // namespace

void Text::Free::operator()(PangoLayout* layout) const {
    g_object_unref(layout);
}

Text::Text(cairo_t* pen, const std::string& words, const Face& face, double width, Align align)
    : pen_(pen), gray_(face.gray), layout_(pango_cairo_create_layout(pen)) {
    set_unhinted(layout_.get());
    set_font(layout_.get(), face);
    const std::string text = valid(words);
    pango_layout_set_text(layout_.get(), text.c_str(), -1);
    if (width > 0) {
        pango_layout_set_width(layout_.get(), static_cast<int>(width * PANGO_SCALE));
        pango_layout_set_wrap(layout_.get(), PANGO_WRAP_WORD_CHAR);
        pango_layout_set_alignment(layout_.get(), pango(align));
    }
    PangoLayoutIter* at = pango_layout_get_iter(layout_.get());
    do {
        PangoRectangle box;
        pango_layout_iter_get_line_extents(at, nullptr, &box);
        lines_.push_back({pango_layout_iter_get_line_readonly(at), points(box.x), points(box.y),
                          points(box.y + box.height), points(pango_layout_iter_get_baseline(at)),
                          points(box.width)});
    } while (pango_layout_iter_next_line(at) != 0);
    pango_layout_iter_free(at);
}

double Text::height(std::size_t from, std::size_t to) const {
    return from >= to || from >= lines_.size() ? 0 : lines_[to - 1].bottom - lines_[from].top;
}

double Text::width() const {
    double most = 0;
    for (const Line& line : lines_) most = std::max(most, line.width);
    return most;
}

void Text::draw(double x, double y, std::size_t from, std::size_t to) const {
    cairo_set_source_rgb(pen_, gray_, gray_, gray_);
    for (std::size_t i = from; i < to; ++i) {
        const Line& line = lines_[i];
        cairo_move_to(pen_, x + line.x, y + line.baseline - lines_[from].top);
        pango_cairo_show_layout_line(pen_, line.line);
    }
}

const Text& Texts::of(cairo_t* pen, const std::string& words, const Face& face, double width, Align align) {
    auto& text = set_[fmt::format("{} {} {} {} {} {}", face.size, face.bold, face.gray, width,
                                  static_cast<int>(align), words)];
    if (!text) text = std::make_unique<Text>(pen, words, face, width, align);
    text->take(pen);
    return *text;
}

}  // namespace dapple::paper
