// Tables that go on over pages.
#include <algorithm>

#include "paper/book.h"

namespace dapple::paper {

namespace {

constexpr double pad_x = 3;
constexpr double pad_y = 2;
constexpr double split_above = 0.4;  // of a page: taller rows may be cut

}  // namespace

struct Book::Row {
    std::vector<const Text*> cells;
    std::vector<double> x;  // of each cell's left side
    const char* tag;

    double height(const std::vector<std::size_t>& from) const {
        double most = 0;
        for (std::size_t i = 0; i < cells.size(); ++i) most = std::max(most, cells[i]->height(from[i]));
        return most + 2 * pad_y;
    }
    std::vector<std::size_t> beginning() const { return std::vector<std::size_t>(cells.size(), 0); }
    bool ended(const std::vector<std::size_t>& from) const {
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (from[i] < cells[i]->lines()) return false;
        }
        return true;
    }
};

// The lines that fit into the room, at least one of each cell; `from` goes on to the next.
void Book::draw_row(const Row& row, std::vector<std::size_t>& from, double available) {
    const Tagged tr(pdf_, "TR");
    double used = 0;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const Text& text = *row.cells[i];
        std::size_t to = text.lines();
        while (to > from[i] + 1 && text.height(from[i], to) + 2 * pad_y > available) --to;
        const Tagged cell(pdf_, row.tag);
        if (to > from[i]) text.draw(row.x[i] + pad_x, y_ + pad_y, from[i], to);
        used = std::max(used, text.height(from[i], to));
        from[i] = to;
    }
    y_ += used + 2 * pad_y;
}

void Book::table(const Table& table) {
    double weights = 0;
    for (const Column& column : table.columns) weights += column.weight;
    const auto row_of = [&](const std::vector<std::string>& words, bool head) {
        Row row;
        row.tag = head ? "TH" : "TD";
        double x = left();
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            const Column& column = table.columns[i];
            const double wide = width() * column.weight / weights;
            row.cells.push_back(&set(i < words.size() ? words[i] : "", Face{table.size, head, 0},
                                     wide - 2 * pad_x, column.align));
            row.x.push_back(x);
            x += wide;
        }
        return row;
    };
    std::vector<std::string> heads;
    for (const Column& column : table.columns) heads.push_back(column.head);
    const Row head = row_of(heads, true);
    const double head_height = head.height(head.beginning());
    const auto draw_head = [&] {
        cairo_set_source_rgb(pen(), 0.92, 0.92, 0.92);
        cairo_rectangle(pen(), left(), y_, width(), head_height);
        cairo_fill(pen());
        auto from = head.beginning();
        draw_row(head, from, head_height);
        rule(0.3, 0.6);
    };

    const Tagged whole(pdf_, "Table");
    bool begun = false;
    for (const auto& words : table.rows) {
        const Row row = row_of(words, false);
        auto from = row.beginning();
        double wanted = row.height(from);
        if (wanted > split_above * (bottom() - top())) wanted = 4 * table.size;  // it may be cut
        if (!begun) keep(head_height + wanted);
        if (begun && wanted > room()) {
            break_page();
            begun = false;
        }
        if (!begun) draw_head();
        begun = true;
        while (!row.ended(from)) {
            draw_row(row, from, room());
            if (row.ended(from)) break;
            break_page();
            draw_head();
        }
        rule(0.75, 0.3);
    }
    y_ += 6;
}

}  // namespace dapple::paper
