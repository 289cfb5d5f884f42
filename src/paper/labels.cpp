#include "paper/labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "paper/qr.h"
#include "paper/text.h"
#include "paper/things.h"

namespace dapple::paper {

namespace {

using record::Thing;

constexpr double mm = 72 / 25.4;
constexpr double margin = 10 * mm;
constexpr double padding = 3 * mm;
constexpr double least_module = 0.35 * mm;  // read by phones at arm's length: common practice, no source

void draw_code(cairo_t* pen, const QrCode& code, double x, double y, double side) {
    const double module = side / (code.width + 2 * quiet_zone);
    cairo_set_antialias(pen, CAIRO_ANTIALIAS_NONE);
    cairo_set_source_rgb(pen, 0, 0, 0);
    for (int row = 0; row < code.width; ++row) {
        for (int column = 0; column < code.width;) {
            int run = 0;
            while (column + run < code.width && code.is_dark(column + run, row)) ++run;
            if (run > 0)
                cairo_rectangle(pen, x + (column + quiet_zone) * module, y + (row + quiet_zone) * module,
                                run * module, module);
            column += run > 0 ? run : 1;
        }
    }
    cairo_fill(pen);
    cairo_set_antialias(pen, CAIRO_ANTIALIAS_DEFAULT);
}

// As many lines as fit into `most`.
double write_lines(cairo_t* pen, const std::string& words, const Face& face, double x, double y, double width,
                   double most) {
    if (words.empty()) return 0;
    const Text text(pen, words, face, width);
    std::size_t lines = text.lines();
    while (lines > 1 && text.height(0, lines) > most) --lines;
    text.draw(x, y, 0, lines);
    return text.height(0, lines);
}

class Sheet {
  public:
    explicit Sheet(const LabelOptions& options)
        : options_(options),
          pdf_(options.paper, {"Labels for enclosures", "QR codes that open the survey", options.now}) {
        width_ = (pdf_.size().width - 2 * margin) / options.columns;
        height_ = (pdf_.size().height - 2 * margin) / options.rows;
    }

    double code_side() const { return std::min(height_, width_ / 2); }

    void draw(const Label& label, const QrCode& code) {
        const int a_page = options_.rows * options_.columns;
        if (drawn_ > 0 && drawn_ % a_page == 0) pdf_.next_page();
        const int place = drawn_++ % a_page;
        const double x = margin + place % options_.columns * width_;
        const int row = place / options_.columns;
        const double y = margin + row * height_;
        cairo_t* pen = pdf_.pen();
        cairo_set_source_rgb(pen, 0.7, 0.7, 0.7);
        cairo_set_line_width(pen, 0.4);
        cairo_rectangle(pen, x, y, width_, height_);
        cairo_stroke(pen);
        {
            const Tagged figure(pdf_, "Figure", "QR code: " + label.link);
            draw_code(pen, code, x, y + (height_ - code_side()) / 2, code_side());
        }
        write(label, x + code_side(), y + padding, width_ - code_side() - padding);
    }

    std::string finish() { return pdf_.finish(); }

  private:
    void write(const Label& label, double x, double y, double width) {
        const Tagged paragraph(pdf_, "P");
        cairo_t* pen = pdf_.pen();
        const double big = std::clamp(height_ / 9, 6.0, 12.0);
        const double small = std::max(5.0, 0.7 * big);
        const double room = height_ - 2 * padding;
        double used = write_lines(pen, label.name, {big, true, 0}, x, y, width, room * 0.55);
        used += write_lines(pen, label.under, {small, false, 0}, x, y + used, width, small * 2.6);
        used += write_lines(pen, label.id, {small, false, 0}, x, y + used + 1, width, room - used);
    }

    const LabelOptions& options_;
    Pdf pdf_;
    double width_;
    double height_;
    int drawn_ = 0;
};

Expected<void> checked(const LabelOptions& options) {
    if (options.rows < 1 || options.rows > 30)
        return refuse({"", "--rows", std::to_string(options.rows), "a whole number from 1 to 30"});
    if (options.columns < 1 || options.columns > 12)
        return refuse({"", "--columns", std::to_string(options.columns), "a whole number from 1 to 12"});
    return {};
}

bool is_address(const std::string& url) {
    const auto rest = [&](std::string_view scheme) {
        return url.starts_with(scheme) && url.size() > scheme.size() && url[scheme.size()] != '/';
    };
    const bool plain = std::all_of(url.begin(), url.end(), [](char c) { return c > 0x20 && c < 0x7f; });
    return plain && (rest("https://") || rest("http://"));
}

}  // namespace

Expected<std::string> labels_pdf(const std::vector<Label>& labels, const LabelOptions& options) {
    if (const auto fault = checked(options); !fault) return tl::unexpected(fault.error());
    if (labels.empty()) return refuse({"", "labels", "no enclosure", "at least one enclosure in use"});
    Sheet sheet(options);
    for (const Label& label : labels) {
        const auto code = qr_code(label.link);
        if (!code) return tl::unexpected(code.error());
        const double module = sheet.code_side() / (code->width + 2 * quiet_zone);
        if (module < least_module) {
            return refuse({"", "--rows, --columns",
                           fmt::format("{} x {}: a module of the code would be {:.2f} mm", options.rows,
                                       options.columns, module / mm),
                           "fewer, so that it is at least 0.35 mm"});
        }
        sheet.draw(label, *code);
    }
    return sheet.finish();
}

record::Result<std::vector<Label>> labels_of(const record::Store& store, const LabelOptions& options) {
    if (!is_address(options.public_url)) {
        return record::refuse_as(record::Trouble::invalid,
                                 {"", "--public-url", "\"" + options.public_url + "\"",
                                  "where phones find the application: https://reptiles.example.org"});
    }
    const auto sites = sites_or_all(store, options.sites);
    if (!sites) return tl::unexpected(sites.error());
    const auto rooms = things_at(store, "room", *sites);
    if (!rooms) return tl::unexpected(rooms.error());
    std::map<std::string, std::string> room_names;
    for (const Thing& room : *rooms) room_names[room.id] = field(room, "name");
    const auto enclosures = chosen_enclosures(store, *sites, options.enclosures);
    if (!enclosures) return tl::unexpected(enclosures.error());

    std::string url = options.public_url;
    while (url.ends_with('/')) url.pop_back();
    std::vector<Label> labels;
    for (const Thing& one : *enclosures) {
        labels.push_back(
            {one.id, name_of_enclosure(one), room_names[field(one, "room")], url + "/survey/" + one.id});
    }
    std::sort(labels.begin(), labels.end(), [](const Label& a, const Label& b) {
        return std::tie(a.under, a.name, a.id) < std::tie(b.under, b.name, b.id);
    });
    return labels;
}

record::Result<std::string> labels_pdf(const record::Store& store, const LabelOptions& options) {
    const auto labels = labels_of(store, options);
    if (!labels) return tl::unexpected(labels.error());
    auto pdf = labels_pdf(*labels, options);
    if (!pdf) return record::refuse_as(record::Trouble::invalid, pdf.error());
    return std::move(*pdf);
}

}  // namespace dapple::paper
