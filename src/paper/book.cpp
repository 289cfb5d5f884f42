#include "paper/book.h"

#include <fmt/format.h>

#include <algorithm>

namespace dapple::paper {

namespace {

constexpr double margin = 48;
constexpr double foot = 30;       // below the text
constexpr std::size_t widow = 2;  // lines that stay together at a page's edge
constexpr double beside_point = 10;

double heading_size(int level) {
    return level == 1 ? 15 : level == 2 ? 11 : 9.5;
}

}  // namespace

std::string Book::write(Paper paper, const About& about, const std::string& running,
                        const Contents& contents) {
    int pages = 0;
    Texts texts;
    for (;;) {
        Pdf pdf(paper, about);
        if (pages == 0) {  // counting needs no ink
            cairo_new_path(pdf.pen());
            cairo_clip(pdf.pen());
        }
        Book book(pdf, texts, running, pages);
        contents(book);
        book.write_foot();
        if (pages > 0) return pdf.finish();
        pages = pdf.page();
    }
}

Book::Book(Pdf& pdf, Texts& texts, std::string running, int pages)
    : pdf_(pdf), texts_(texts), running_(std::move(running)), pages_(pages), y_(top()) {}

double Book::top() const {
    return margin;
}
double Book::bottom() const {
    return pdf_.size().height - margin - foot;
}
double Book::left() const {
    return margin;
}
double Book::width() const {
    return pdf_.size().width - 2 * margin;
}

void Book::space(double points) {
    if (!fresh()) y_ += points;
}

void Book::keep(double points) {
    if (!fresh() && room() < points) break_page();
}

void Book::break_page() {
    write_foot();
    pdf_.next_page();
    y_ = top();
}

void Book::write_foot() {
    const double y = bottom() + foot / 2;
    const Face small{7.5, false, 0.25};
    cairo_set_source_rgb(pen(), 0.6, 0.6, 0.6);
    cairo_set_line_width(pen(), 0.4);
    cairo_move_to(pen(), left(), y);
    cairo_line_to(pen(), left() + width(), y);
    cairo_stroke(pen());
    const Text which(pen(), fmt::format("page {} of {}", pdf_.page(), std::max(1, pages_)), small);
    set(running_, small, width() - which.width() - 20).draw(left(), y + 4);
    which.draw(left() + width() - which.width(), y + 4);
}

void Book::rule(double gray, double thickness) {
    cairo_set_source_rgb(pen(), gray, gray, gray);
    cairo_set_line_width(pen(), thickness);
    cairo_move_to(pen(), left(), y_);
    cairo_line_to(pen(), left() + width(), y_);
    cairo_stroke(pen());
}

void Book::heading(int level, const std::string& words) {
    if (level == 1 && !fresh()) break_page();
    const Face face{heading_size(level), true, 0};
    const Text& text = set(words, face, width());
    space(level == 2 ? 12 : 8);
    keep(text.height() + 48);  // and a few lines of what it is about
    const auto depth = static_cast<std::size_t>(level - 1);
    outline_.resize(std::min(outline_.size(), depth));
    const int parent = outline_.empty() ? 0 : outline_.back();
    outline_.push_back(pdf_.outline(parent, words, y_));
    {
        const Tagged tag(pdf_, fmt::format("H{}", level));
        text.draw(left(), y_);
    }
    y_ += text.height() + (level == 1 ? 6 : 3);
    if (level == 1) {
        rule(0, 0.8);
        y_ += 8;
    }
}

// Breaks over pages so that at least two lines stand on either side.
void Book::lines(const Text& text, double indent, const char* tag) {
    std::size_t from = 0;
    while (from < text.lines()) {
        std::size_t to = text.lines();
        while (to > from && text.height(from, to) > room()) --to;
        const std::size_t left_over = text.lines() - to;
        if (left_over > 0 && left_over < widow) to -= std::min(to - from, widow - left_over);
        if (left_over > 0 && to - from < widow) to = from;
        if (to == from && fresh()) to = from + 1;  // taller than a page: it must go somewhere
        if (to > from) {
            const Tagged tagged(pdf_, tag);
            text.draw(left() + indent, y_, from, to);
            y_ += text.height(from, to);
        }
        from = to;
        if (from < text.lines()) break_page();
    }
}

void Book::paragraph(const std::string& words, const Face& face) {
    lines(set(words, face, width()), 0, "P");
    y_ += 4;
}

void Book::bullets(const std::vector<std::string>& points) {
    if (points.empty()) return;
    const Tagged list(pdf_, "L");
    const Text& dot = set("•", {});
    for (const std::string& point : points) {
        const Text& text = set(point, {}, width() - beside_point);
        keep(text.height(0, std::min(widow, text.lines())));
        const Tagged item(pdf_, "LI");
        {
            const Tagged label(pdf_, "Lbl");
            dot.draw(left(), y_);
        }
        lines(text, beside_point, "LBody");
        y_ += 2;
    }
    y_ += 2;
}

void Book::figure(double height, const std::string& description, const std::function<void(cairo_t*)>& draw) {
    keep(height);
    if (pages_ > 0) {  // nor drawings
        const Tagged tag(pdf_, "Figure", description);
        cairo_save(pen());
        cairo_translate(pen(), left(), y_);
        draw(pen());
        cairo_restore(pen());
    }
    y_ += height + 6;
}

}  // namespace dapple::paper
