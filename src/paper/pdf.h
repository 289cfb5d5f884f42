// A PDF being drawn: sheets of paper, Cairo's pen on them, tags and outlines, and the bytes at the end.
//
// Tagged (ISO 32000-1, 14.8): headings, paragraphs, tables and figures say what they are, figures carry a description, and the
// document its language. An sRGB output intent and XMP metadata go in, as ISO 19005-2 asks; no conformance is claimed.
// Lengths are points (1/72 inch), y goes down.
#pragma once

#include <cairo.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "problem/problem.h"
#include "record/moment.h"

namespace dapple::paper {

enum class Paper { a4, letter };
Expected<Paper> paper_named(const std::string& name, const std::string& place);  // "a4", "letter"

struct PaperSize {
    double width;
    double height;
};
PaperSize size_of(Paper paper);

struct About {
    std::string title;
    std::string subject;
    record::Moment made;
};

class Pdf {
  public:
    Pdf(Paper paper, const About& about);
    ~Pdf();
    Pdf(const Pdf&) = delete;
    Pdf& operator=(const Pdf&) = delete;

    cairo_t* pen() const { return pen_; }
    PaperSize size() const { return size_; }
    int page() const { return page_; }  // from 1
    void next_page();

    // A structure element, closed by end(). `alternative` describes a Figure to whoever cannot see it.
    void begin(const std::string& tag, const std::string& alternative = {});
    void end(const std::string& tag);

    // An entry in the outline that leads here; returns its number, to be the parent of others. 0: top.
    int outline(int parent, const std::string& words, double y);

    // The whole file, once. Throws std::runtime_error where Cairo failed.
    std::string finish();

  private:
    PaperSize size_;
    About about_;
    std::string bytes_;
    cairo_surface_t* surface_ = nullptr;
    cairo_t* pen_ = nullptr;
    int page_ = 1;
    std::vector<std::string> alternatives_;  // of figures, in their order
};

// Structure that ends with the scope.
class Tagged {
  public:
    Tagged(Pdf& pdf, std::string tag, const std::string& alternative = {}) : pdf_(pdf), tag_(std::move(tag)) {
        pdf_.begin(tag_, alternative);
    }
    ~Tagged() { pdf_.end(tag_); }
    Tagged(const Tagged&) = delete;
    Tagged& operator=(const Tagged&) = delete;

  private:
    Pdf& pdf_;
    std::string tag_;
};

}  // namespace dapple::paper
