#include "paper/pdf.h"

#include <cairo-pdf.h>
#include <fmt/format.h>

#include <stdexcept>

#include "paper/pdf_finish.h"

namespace dapple::paper {

namespace {

cairo_status_t append(void* to, const unsigned char* data, unsigned length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace

Expected<Paper> paper_named(const std::string& name, const std::string& place) {
    if (name == "a4" || name == "A4") return Paper::a4;
    if (name == "letter" || name == "Letter") return Paper::letter;
    return refuse({"", place, "\"" + name + "\"", "a4, letter"});
}

PaperSize size_of(Paper paper) {
    constexpr double per_mm = 72 / 25.4;
    if (paper == Paper::letter) return {612, 792};  // 8.5 x 11 inches, ANSI/ASME Y14.1
    return {210 * per_mm, 297 * per_mm};            // ISO 216
}

Pdf::Pdf(Paper paper, const About& about) : size_(size_of(paper)), about_(about) {
    surface_ = cairo_pdf_surface_create_for_stream(append, &bytes_, size_.width, size_.height);
    cairo_pdf_surface_restrict_to_version(surface_, CAIRO_PDF_VERSION_1_5);
    const auto say = [&](cairo_pdf_metadata_t what, const std::string& words) {
        cairo_pdf_surface_set_metadata(surface_, what, words.c_str());
    };
    say(CAIRO_PDF_METADATA_TITLE, about.title);
    say(CAIRO_PDF_METADATA_SUBJECT, about.subject);
    say(CAIRO_PDF_METADATA_CREATOR, "Dapple " DAPPLE_VERSION);
    // To the second, as the XMP says it: the two must agree (ISO 19005-2, 6.6.3).
    say(CAIRO_PDF_METADATA_CREATE_DATE, record::to_text(about.made).substr(0, 19) + "Z");
    pen_ = cairo_create(surface_);
    begin("Document");
}

Pdf::~Pdf() {
    cairo_destroy(pen_);
    cairo_surface_destroy(surface_);
}

void Pdf::next_page() {
    cairo_show_page(pen_);
    ++page_;
}

void Pdf::begin(const std::string& tag, const std::string& alternative) {
    if (tag == "Figure") alternatives_.push_back(alternative);
    cairo_tag_begin(pen_, tag.c_str(), nullptr);
}

void Pdf::end(const std::string& tag) {
    cairo_tag_end(pen_, tag.c_str());
}

int Pdf::outline(int parent, const std::string& words, double y) {
    const std::string where = fmt::format("page={} pos=[0 {:.1f}]", page_, y);
    return cairo_pdf_surface_add_outline(surface_, parent, words.c_str(), where.c_str(),
                                         CAIRO_PDF_OUTLINE_FLAG_OPEN);
}

std::string Pdf::finish() {
    end("Document");
    cairo_status_t status = cairo_status(pen_);
    cairo_surface_finish(surface_);
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface_);
    if (status != CAIRO_STATUS_SUCCESS)
        throw std::runtime_error(std::string("the PDF could not be drawn: ") +
                                 cairo_status_to_string(status));
    return finished(bytes_, about_, alternatives_);
}

}  // namespace dapple::paper
