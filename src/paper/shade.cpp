#include "paper/shade.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <memory>

namespace dapple::paper {

namespace {

constexpr int pixels_a_cell = 5;
constexpr double darkest = 0.62;  // gray of the highest level: black lines still show on it

double gray_of(double uvi) {
    const auto below =
        std::upper_bound(contour_levels.begin(), contour_levels.end(), uvi) - contour_levels.begin();
    return 1 - (1 - darkest) * static_cast<double>(below) / static_cast<double>(contour_levels.size());
}

double between(const Slice& slice, double column, double row) {
    const int c = std::min(static_cast<int>(column), slice.columns - 2);
    const int r = std::min(static_cast<int>(row), slice.rows - 2);
    const double x = column - c;
    const double y = row - r;
    return (1 - y) * ((1 - x) * slice.value(c, r) + x * slice.value(c + 1, r)) +
           y * ((1 - x) * slice.value(c, r + 1) + x * slice.value(c + 1, r + 1));
}

}  // namespace

void shade(cairo_t* pen, const Slice& slice, double width, double height) {
    const int wide = (slice.columns - 1) * pixels_a_cell;
    const int high = (slice.rows - 1) * pixels_a_cell;
    const std::unique_ptr<cairo_surface_t, void (*)(cairo_surface_t*)> picture(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, wide, high), cairo_surface_destroy);
    unsigned char* data = cairo_image_surface_get_data(picture.get());
    const int stride = cairo_image_surface_get_stride(picture.get());
    for (int j = 0; j < high; ++j) {
        for (int i = 0; i < wide; ++i) {
            const double uvi =
                between(slice, (i + 0.5) / pixels_a_cell, slice.rows - 1 - (j + 0.5) / pixels_a_cell);
            const auto gray = static_cast<std::uint32_t>(std::lround(255 * gray_of(uvi)));
            const std::uint32_t pixel = gray << 16U | gray << 8U | gray;
            std::memcpy(data + static_cast<std::ptrdiff_t>(j) * stride + 4 * static_cast<std::ptrdiff_t>(i),
                        &pixel, sizeof pixel);
        }
    }
    cairo_surface_mark_dirty(picture.get());
    cairo_save(pen);
    cairo_scale(pen, width / wide, height / high);
    cairo_set_source_surface(pen, picture.get(), 0, 0);
    cairo_pattern_set_filter(cairo_get_source(pen), CAIRO_FILTER_NEAREST);
    cairo_rectangle(pen, 0, 0, wide, high);
    cairo_fill(pen);
    cairo_restore(pen);
}

}  // namespace dapple::paper
