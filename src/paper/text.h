// Words on paper, set by Pango: any script, broken into lines of a width, a long word broken where it must be.
#pragma once

#include <cairo.h>
#include <pango/pango.h>

#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

namespace dapple::paper {

struct Face {
    double size = 9;  // points
    bool bold = false;
    double gray = 0;  // 0: black
};

enum class Align { left, right, centre };

class Text {
  public:
    // `width` 0: one line, as long as it is. Bytes that are no UTF-8 are shown as replacement characters.
    Text(cairo_t* pen, const std::string& words, const Face& face, double width = 0,
         Align align = Align::left);

    std::size_t lines() const { return lines_.size(); }
    double height(std::size_t from = 0) const { return height(from, lines()); }
    double height(std::size_t from, std::size_t to) const;
    double width() const;  // of the longest line

    // Lines from..to with the top of the first at (x, y).
    void draw(double x, double y) const { draw(x, y, 0, lines()); }
    void draw(double x, double y, std::size_t from, std::size_t to) const;

    void take(cairo_t* pen) { pen_ = pen; }  // of another surface of the same kind

  private:
    struct Line {
        PangoLayoutLine* line;  // of layout_
        double x;
        double top;
        double bottom;
        double baseline;
        double width;
    };
    struct Free {
        void operator()(PangoLayout* layout) const;
    };

    cairo_t* pen_;
    double gray_;
    std::unique_ptr<PangoLayout, Free> layout_;
    std::vector<Line> lines_;
};

// Set once, drawn as often as wanted: tables say the same words again and again.
class Texts {
  public:
    const Text& of(cairo_t* pen, const std::string& words, const Face& face, double width = 0,
                   Align align = Align::left);

  private:
    std::unordered_map<std::string, std::unique_ptr<Text>> set_;
};

}  // namespace dapple::paper
