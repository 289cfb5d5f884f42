#include "light/direct.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

#include "light/attenuation.h"
#include "light/emission.h"
#include "light/facing.h"
#include "light/quadrature.h"
#include "light/triangle_shadows.h"

namespace dapple::light {

using scene::Vec3;

namespace {

constexpr int nodes_in_the_open = 16;  // of a piece that nothing dims
constexpr int nodes_when_dimmed = 6;   // of each panel of a dimmed piece
constexpr std::size_t most_rays = 64;  // of a Fineness
constexpr double dimmed_panel = 0.15;  // rad seen from the point

Triple<double> triple(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

// A straight piece of lamp: origin + s axis, from <= s <= to.
struct Line {
    Vec3 origin;
    Vec3 axis;
    double from, to;
    Vec3 at(double s) const { return origin + s * axis; }
};

using Pieces = std::vector<Interval<double>>;

// What is left of [from, to] without the hidden intervals.
Pieces visible(double from, double to, Pieces hidden) {
    std::sort(hidden.begin(), hidden.end(), [](const auto& a, const auto& b) { return a.lo < b.lo; });
    Pieces pieces;
    for (const auto& h : hidden) {
        if (h.lo > from) pieces.push_back({from, std::min(h.lo, to)});
        from = std::max(from, h.hi);
        if (from >= to) return pieces;
    }
    pieces.push_back({from, to});
    return pieces;
}

// The same pieces, cut wherever something begins or ends to dim the light.
Pieces cut(const Pieces& pieces, std::vector<double> cuts) {
    std::sort(cuts.begin(), cuts.end());
    Pieces out;
    for (auto piece : pieces) {
        for (const double c : cuts) {
            if (c <= piece.lo || c >= piece.hi) continue;
            out.push_back({piece.lo, c});
            piece.lo = c;
        }
        out.push_back(piece);
    }
    return out;
}

// Narrows to the half line on which a + b s >= 0.
void keep_positive(double a, double b, double& from, double& to) {
    if (b > 0) {
        from = std::max(from, -a / b);
    } else if (b < 0) {
        to = std::min(to, -a / b);
    } else if (a < 0) {
        to = from;
    }
}

scene::Box bounds_of(const scene::Lamp& lamp) {
    Vec3 reach = Vec3::Zero();
    if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) {
        reach = tube->length / 2 * tube->along.cwiseAbs() + Vec3::Constant(tube->diameter / 2);
    } else if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) {
        reach = Vec3::Constant(spot->diameter / 2);
    } else if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) {
        reach = bar->length / 2 * bar->along.cwiseAbs();
    }
    return {lamp.centre - reach, lamp.centre + reach};
}

}  // namespace

struct Direct::View {
    const scene::Lamp& lamp;
    Vec3 point;
    const Vec3* normal;  // receiver's, or none
    Fineness fineness;
    std::vector<const Body*> opaque;
    std::vector<std::size_t> screens;
    std::vector<std::size_t> foliage;
    std::vector<const Body*> dimming;  // bodies of the screens and the foliage
    const TriangleShadows* triangles = nullptr;

    bool shadowed() const { return !opaque.empty() || triangles != nullptr; }

    // Pieces of a line that bodies leave visible, cut where screens and foliage begin and end.
    Pieces pieces(const Line& line, double from, double to) const {
        const auto x = triple(point), p = triple(line.origin), a = triple(line.axis);
        Pieces hidden;
        for (const Body* body : opaque) {
            const auto interval = shadow_of(*body, x, p, a, from, to);
            if (interval.lo < interval.hi) hidden.push_back(interval);
        }
        Pieces left = visible(from, to, std::move(hidden));
        if (dimming.empty()) return left;
        std::vector<double> cuts;
        for (const Body* body : dimming) {
            const auto interval = shadow_of(*body, x, p, a, from, to);
            if (interval.lo < interval.hi) {
                cuts.push_back(interval.lo);
                cuts.push_back(interval.hi);
            }
        }
        return cut(left, std::move(cuts));
    }
};

Direct::Direct(const scene::Enclosure& enclosure)
    : enclosure_(enclosure),
      walls_(wall_bodies(enclosure)),
      triangles_(TriangleShadows::of(enclosure)),
      panes_(enclosure) {
    for (const auto& furniture : enclosure.furniture) {
        if (auto body = make_body(furniture)) furniture_.push_back(*body);
    }
    for (const auto& screen : enclosure.screens) screens_.push_back(make_body(screen));
    for (const auto& leaves : enclosure.foliage) {
        foliage_.push_back(std::visit([](const auto& shape) { return make_body(shape, 0.0); }, leaves.shape));
    }
}

Direct::~Direct() = default;
Direct::Direct(Direct&&) noexcept = default;

void Direct::visit(int lamp_index, const Vec3& point, const Vec3* normal, const Fineness& fineness,
                   const Sink& sink) const {
    const scene::Lamp& lamp = enclosure_.lamps[static_cast<std::size_t>(lamp_index)];
    View view{lamp, point, normal, fineness, {}, {}, {}, {}, nullptr};
    const scene::Box bounds = bounds_of(lamp);
    auto between = [&](const Body& body) {
        return may_stand_between(body, point.data(), point.data(), bounds.min.data(), bounds.max.data());
    };
    for (const Body& body : furniture_) {
        if (between(body)) view.opaque.push_back(&body);
    }
    const scene::Box inside{Vec3::Zero(), enclosure_.size};
    if (!inside.contains(bounds.min) || !inside.contains(bounds.max)) {
        for (const Body& wall : walls_) {
            if (between(wall)) view.opaque.push_back(&wall);
        }
    }
    for (std::size_t i = 0; i < screens_.size(); ++i) {
        if (!between(screens_[i])) continue;
        view.screens.push_back(i);
        view.dimming.push_back(&screens_[i]);
    }
    for (std::size_t i = 0; i < foliage_.size(); ++i) {
        if (!between(foliage_[i])) continue;
        view.foliage.push_back(i);
        view.dimming.push_back(&foliage_[i]);
    }
    if (triangles_) {
        Body box = make_body(scene::BoxShape{triangles_->bounds(), Vec3::Zero()}, 0.0);
        if (between(box)) view.triangles = triangles_.get();
    }

    if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) {
        visit_tube(view, *tube, sink);
    } else if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) {
        if (spot->diameter > 0) {
            visit_disc(view, *spot, sink);
        } else {
            visit_points(view, {lamp.centre}, emission_of(*spot), sink);
        }
    } else if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) {
        std::vector<Vec3> points;
        for (int i = 0; i < bar->count; ++i) {
            points.emplace_back(lamp.centre + bar->length * ((i + 0.5) / bar->count - 0.5) * bar->along);
        }
        visit_points(view, points, emission_of(*bar), sink);
    }
}

// Hands on what arrives from `source` (where the shadow ray ends) along `direction`, dimmed by what it crossed.
void Direct::deliver(const View& view, const Vec3& source, const Vec3& direction, double weight,
                     const Sink& sink) const {
    std::array<PaneCrossing, 16> crossed;
    std::size_t panes = 0;
    const Vec3 ray = (source - view.point).normalized();
    for (const std::size_t i : view.screens) {
        const scene::Screen& screen = enclosure_.screens[i];
        if (!crossing(screen, view.point, source)) continue;
        const int pane = panes_.pane_of(i);
        if (pane < 0) {
            weight *= screen_transmittance_gray(screen, ray);
        } else if (panes < crossed.size()) {
            crossed[panes++] = {pane, std::abs(ray[screen.normal_axis])};
        }
    }
    for (const std::size_t i : view.foliage) {
        weight *= foliage_transmittance(enclosure_.foliage[i], view.point, source);
    }
    if (weight > 0) sink(direction, weight, std::span(crossed.data(), panes));
}

void Direct::visit_tube(const View& view, const scene::Tube& tube, const Sink& sink) const {
    const Vec3& a = tube.along;
    const Vec3 r = view.lamp.centre - view.point;
    const double foot = -r.dot(a);
    const Vec3 to_axis = r + foot * a;
    const double distance = to_axis.norm();
    if (distance < 1e-9) return;  // on the axis: a line sends nothing along itself
    const Vec3 e = to_axis / distance;
    double intensity = 1;
    if (tube.forward_power >= 0) {
        const double cos_phi = -e.dot(tube.aim);
        if (cos_phi <= 0) return;
        intensity = std::pow(cos_phi, tube.forward_power);
    }
    double from = -tube.length / 2, to = tube.length / 2;
    if (view.normal != nullptr) {
        const double ne = view.normal->dot(e), na = view.normal->dot(a);
        keep_positive(ne * distance - na * foot, na, from, to);
        if (from >= to) return;
    }
    const int strips = view.shadowed() ? view.fineness.strips : 1;
    const Vec3 across = a.cross(e);
    for (int strip = 0; strip < strips; ++strip) {
        const double offset = tube.diameter / 2 * ((2 * strip + 1.0) / strips - 1);
        const Line line{view.lamp.centre + offset * across, a, from, to};
        const double unit = intensity / distance / strips;
        auto deliver_at = [&](double alpha, double weight) {
            const double s = foot + distance * std::tan(alpha);
            const Vec3 direction = std::cos(alpha) * e + std::sin(alpha) * a;
            const Vec3 source = line.at(std::clamp(s, from, to));
            deliver(view, source, direction, unit * std::cos(alpha) * weight, sink);
        };
        for (const auto& piece : view.pieces(line, from, to)) {
            const double a0 = std::atan2(piece.lo - foot, distance),
                         a1 = std::atan2(piece.hi - foot, distance);
            if (view.triangles != nullptr) {
                // Equal steps of sin(alpha) carry equal energy; visibility is a step, so a midpoint rule.
                const double v0 = std::sin(a0), v1 = std::sin(a1);
                const int rays = view.fineness.rays;
                std::array<double, most_rays> alphas;
                std::array<Vec3, most_rays> places;
                std::array<bool, most_rays> hidden;
                for (int i = 0; i < rays; ++i) {
                    const double v = v0 + (v1 - v0) * (i + 0.5) / rays;
                    const auto k = static_cast<std::size_t>(i);
                    alphas[k] = std::asin(v);
                    places[k] = line.at(foot + distance * v / std::sqrt(1 - v * v));
                }
                const auto n = static_cast<std::size_t>(rays);
                view.triangles->hidden(view.point, std::span(places.data(), n), std::span(hidden.data(), n));
                for (std::size_t i = 0; i < n; ++i) {
                    if (!hidden[i]) deliver_at(alphas[i], (v1 - v0) / rays / std::cos(alphas[i]));
                }
                continue;
            }
            const bool dimmed = !view.dimming.empty();
            const int panels = dimmed ? 1 + static_cast<int>((a1 - a0) / dimmed_panel) : 1;
            const Rule& rule = gauss_legendre(dimmed ? nodes_when_dimmed : nodes_in_the_open);
            const double half = (a1 - a0) / panels / 2;
            for (int panel = 0; panel < panels; ++panel) {
                const double middle = a0 + (2 * panel + 1) * half;
                for (std::size_t i = 0; i < rule.node.size(); ++i) {
                    deliver_at(middle + half * rule.node[i], half * rule.weight[i]);
                }
            }
        }
    }
}

void Direct::visit_disc(const View& view, const scene::Spot& spot, const Sink& sink) const {
    const double height = (view.point - view.lamp.centre).dot(spot.aim);
    const Emission emission = emission_of(spot);
    if (height <= 0 && emission.photometry == nullptr) return;  // behind the disc
    const Vec3 u = emission.along, v = spot.aim.cross(u);
    const double radius = spot.diameter / 2;
    // From close by, the disc fills the view and its light changes quickly along a chord.
    const double nearness = radius / std::max(std::abs(height), 1e-3 * radius);
    const int chords =
        std::min(512, static_cast<int>((view.shadowed() ? view.fineness.chords : view.fineness.open_chords) *
                                       std::max(1.0, nearness)));
    const bool coarse = view.dimming.empty() && view.triangles == nullptr;
    const int panels = std::min(64, (coarse ? 1 : 2) * std::max(1, static_cast<int>(std::ceil(nearness))));
    const Rule& rule = gauss_legendre(view.triangles != nullptr ? nodes_in_the_open : 8);
    for (int chord = 1; chord <= chords; ++chord) {
        const double angle = std::numbers::pi * chord / (chords + 1);
        const double offset = radius * std::cos(angle), half_chord = radius * std::sin(angle);
        const double width = radius * std::numbers::pi / (chords + 1) * std::sin(angle);
        Line line{view.lamp.centre + offset * v, u, -half_chord, half_chord};
        if (view.normal != nullptr) {
            keep_positive(view.normal->dot(line.origin - view.point), view.normal->dot(u), line.from,
                          line.to);
            if (line.from >= line.to) continue;
        }
        for (const auto& piece : view.pieces(line, line.from, line.to)) {
            const double half = (piece.hi - piece.lo) / panels / 2;
            for (int panel = 0; panel < panels; ++panel) {
                for (std::size_t i = 0; i < rule.node.size(); ++i) {
                    const Vec3 source = line.at(piece.lo + (2 * panel + 1 + rule.node[i]) * half);
                    const Vec3 to_source = source - view.point;
                    const double r2 = to_source.squaredNorm();
                    const Vec3 direction = to_source / std::sqrt(r2);
                    // dI = L cos(theta) dA: the lobe already holds the cosine.
                    const double weight = emission(-direction) / r2 * width * half * rule.weight[i];
                    if (weight <= 0) continue;
                    if (view.triangles != nullptr && view.triangles->hidden(view.point, source)) continue;
                    deliver(view, source, direction, weight, sink);
                }
            }
        }
    }
}

void Direct::visit_points(const View& view, const std::vector<Vec3>& points, const Emission& emission,
                          const Sink& sink) const {
    for (const Vec3& source : points) {
        const Vec3 to_source = source - view.point;
        const double r2 = to_source.squaredNorm();
        if (r2 < 1e-18) continue;
        const Vec3 direction = to_source / std::sqrt(r2);
        if (view.normal != nullptr && view.normal->dot(direction) <= 0) continue;
        const double weight = emission(-direction) / r2;
        if (weight <= 0) continue;
        // A point is a line of no length: hidden when any body's interval holds s = 0.
        const Vec3 axis = direction.unitOrthogonal();
        const bool hidden = std::any_of(view.opaque.begin(), view.opaque.end(), [&](const Body* body) {
            constexpr double speck = 1e-9;
            const auto interval =
                shadow_of(*body, triple(view.point), triple(source), triple(axis), -speck, speck);
            return interval.lo <= 0 && interval.hi >= 0 && interval.lo < interval.hi;
        });
        if (hidden || (view.triangles != nullptr && view.triangles->hidden(view.point, source))) continue;
        deliver(view, source, direction, weight, sink);
    }
}

Transport Direct::planar(int lamp, const Vec3& point, const Vec3& normal, const Fineness& fineness) const {
    Transport sum;
    visit(lamp, point, &normal, fineness, [&](const Vec3& direction, double weight, auto crossed) {
        const double cosine = normal.dot(direction);
        if (cosine > 0) panes_.add(sum, weight * cosine, crossed);
    });
    return sum;
}

Transport Direct::back(int lamp, const Vec3& point) const {
    Transport sum;
    visit(lamp, point, nullptr, fine_enough_for_a_point,
          [&](const Vec3& direction, double weight, auto crossed) {
              panes_.add(sum, weight * back_weight(direction.z()), crossed);
          });
    return sum;
}

std::vector<Sample> Direct::samples(int lamp, const Vec3& point, const Fineness& fineness) const {
    std::vector<Sample> all;
    visit(lamp, point, nullptr, fineness, [&](const Vec3& direction, double weight, auto crossed) {
        all.push_back({direction, weight, {crossed.begin(), crossed.end()}});
    });
    return all;
}

}  // namespace dapple::light
