// Text, tables and figures flowing down page after page, with what makes pages readable: a heading stays with what follows it,
// no paragraph leaves a single line behind or carries one over, a table that goes on repeats its head, and every page says
// which of how many it is.
//
// How many there are is known only at the end, so a book is written twice: `Book::write` calls `contents` once to count.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "paper/pdf.h"
#include "paper/text.h"

namespace dapple::paper {

struct Column {
    std::string head;
    double weight;  // of the width
    Align align = Align::left;
};

struct Table {
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
    double size = 8;  // of the type
};

class Book {
  public:
    using Contents = std::function<void(Book&)>;
    // `running` stands at the foot of every page.
    static std::string write(Paper paper, const About& about, const std::string& running,
                             const Contents& contents);

    void heading(int level, const std::string& words);  // 1 begins a page, if the page is not new
    void paragraph(const std::string& words, const Face& face = {});
    void bullets(const std::vector<std::string>& points);
    void table(const Table& table);

    // Drawn with (0, 0) at its upper left corner. Described for whoever cannot see it.
    void figure(double height, const std::string& description, const std::function<void(cairo_t*)>& draw);

    void space(double points);
    void keep(double points);  // a new page, unless so much is left on this one
    double width() const;
    cairo_t* pen() const { return pdf_.pen(); }

  private:
    Book(Pdf& pdf, Texts& texts, std::string running, int pages);
    const Text& set(const std::string& words, const Face& face, double width = 0, Align align = Align::left) {
        return texts_.of(pen(), words, face, width, align);
    }
    double top() const;
    double bottom() const;
    double left() const;
    double room() const { return bottom() - y_; }
    bool fresh() const { return y_ <= top(); }
    void break_page();
    void write_foot();
    void lines(const Text& text, double indent, const char* tag);
    struct Row;
    void draw_row(const Row& row, std::vector<std::size_t>& from, double room);
    void rule(double gray, double thickness);

    Pdf& pdf_;
    Texts& texts_;
    std::string running_;
    int pages_;  // 0: counting
    double y_;
    std::vector<int> outline_;  // the open entry of each level
};

}  // namespace dapple::paper
