#include "paper/slice.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace dapple::paper {

namespace {

using scene::Vec3;

constexpr double off_the_wall = 1e-3;  // m: what is on the wall itself is the wall's

double within(double at, double size) {
    return std::clamp(at, off_the_wall, size - off_the_wall);
}

// An edge of the lattice: between a point and its neighbour to the right (0) or above (1).
using Edge = std::array<int, 3>;  // column, row, direction

// The pieces of a contour in one square, as pairs of edges.
class Squares {
  public:
    Squares(const Slice& slice, double value) : slice_(slice), value_(value) {}

    std::vector<Line> lines() {
        for (int row = 0; row + 1 < slice_.rows; ++row) {
            for (int column = 0; column + 1 < slice_.columns; ++column) cut(column, row);
        }
        std::vector<Line> all;
        // Open lines from their ends first, then the closed ones.
        for (const bool closed : {false, true}) {
            for (auto& [edge, next] : joined_) {
                if (!next.empty() && (closed || next.size() == 1)) all.push_back(follow(edge));
            }
        }
        return all;
    }

  private:
    bool above(int column, int row) const { return slice_.value(column, row) >= value_; }

    void join(const Edge& a, const Edge& b) {
        joined_[a].push_back(b);
        joined_[b].push_back(a);
    }

    void cut(int c, int r) {
        const Edge bottom = {c, r, 0};
        const Edge top = {c, r + 1, 0};
        const Edge left = {c, r, 1};
        const Edge right = {c + 1, r, 1};
        const int which = (above(c, r) ? 1 : 0) + (above(c + 1, r) ? 2 : 0) + (above(c + 1, r + 1) ? 4 : 0) +
                          (above(c, r + 1) ? 8 : 0);
        const double mean = (slice_.value(c, r) + slice_.value(c + 1, r) + slice_.value(c + 1, r + 1) +
                             slice_.value(c, r + 1)) /
                            4;
        if (which == 1 || which == 14) join(left, bottom);
        if (which == 2 || which == 13) join(bottom, right);
        if (which == 3 || which == 12) join(left, right);
        if (which == 4 || which == 11) join(right, top);
        if (which == 6 || which == 9) join(bottom, top);
        if (which == 7 || which == 8) join(left, top);
        if (which == 5 || which == 10) {  // a saddle
            const bool high = (which == 5) == (mean >= value_);
            join(left, high ? top : bottom);
            join(right, high ? bottom : top);
        }
    }

    Point on(const Edge& edge) const {
        const auto [c, r, up] = edge;
        const double a = slice_.value(c, r);
        const double b = up == 0 ? slice_.value(c + 1, r) : slice_.value(c, r + 1);
        const double t = a == b ? 0.5 : std::clamp((value_ - a) / (b - a), 0.0, 1.0);
        const double dx = slice_.width / (slice_.columns - 1);
        const double dy = slice_.height / (slice_.rows - 1);
        return {(c + (up == 0 ? t : 0)) * dx, (r + (up == 0 ? 0 : t)) * dy};
    }

    // Takes the pieces it goes along.
    Line follow(Edge edge) {
        Line line = {on(edge)};
        while (!joined_[edge].empty()) {
            const Edge next = joined_[edge].back();
            joined_[edge].pop_back();
            auto& back = joined_[next];
            back.erase(std::find(back.begin(), back.end(), edge));
            edge = next;
            line.push_back(on(edge));
        }
        return line;
    }

    const Slice& slice_;
    double value_;
    std::map<Edge, std::vector<Edge>> joined_;
};

}  // namespace

Slice slice_of(const scene::Enclosure& enclosure, Cut cut, double at, const UviAt& uvi, int longest) {
    Slice slice{cut, at, enclosure.size.x(), cut == Cut::plan ? enclosure.size.y() : enclosure.size.z(), 0,
                0,   {}};
    const double step = std::max(slice.width, slice.height) / (longest - 1);
    slice.columns = std::max(4, static_cast<int>(std::lround(slice.width / step)) + 1);
    slice.rows = std::max(4, static_cast<int>(std::lround(slice.height / step)) + 1);
    std::vector<Vec3> points;
    for (int row = 0; row < slice.rows; ++row) {
        for (int column = 0; column < slice.columns; ++column) {
            const double x = within(slice.width * column / (slice.columns - 1), slice.width);
            const double up = within(slice.height * row / (slice.rows - 1), slice.height);
            points.emplace_back(cut == Cut::plan ? Vec3(x, up, within(at, enclosure.size.z()))
                                                 : Vec3(x, within(at, enclosure.size.y()), up));
        }
    }
    slice.uvi = uvi(points);
    return slice;
}

std::vector<Line> contours(const Slice& slice, double value) {
    return Squares(slice, value).lines();
}

}  // namespace dapple::paper
