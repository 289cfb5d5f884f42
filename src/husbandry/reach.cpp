#include "husbandry/reach.h"

#include <algorithm>
#include <cmath>

#include "husbandry/solid.h"
#include "husbandry/surface.h"

namespace dapple::husbandry {

namespace {

using scene::Enclosure;
using scene::Face;
using scene::Vec3;

struct Ground {
    Surface surface;
    int name;       // index of Reach::surfaces
    bool clung_to;  // its steep and hanging parts count too
};

bool is_branch(const scene::Furniture& f) {
    return std::holds_alternative<scene::CylinderShape>(f.shape);
}

std::vector<Ground> grounds_of(const Enclosure& enclosure, bool climbs, std::vector<std::string>& names) {
    std::vector<Ground> grounds;
    const Vec3 size = enclosure.size;
    const Vec3 x(size.x(), 0, 0);
    const Vec3 y(0, size.y(), 0);
    const Vec3 z(0, 0, size.z());
    const auto add = [&](const std::string& name, const Surface& surface, bool clung_to) {
        if (names.empty() || names.back() != name) names.push_back(name);
        if (surface.area > 0) grounds.push_back({surface, static_cast<int>(names.size()) - 1, clung_to});
    };
    add("the floor", rectangle(Vec3::Zero(), x, y, Vec3::UnitZ()), false);
    for (const scene::Furniture& f : enclosure.furniture) {
        if (!f.perch && !(climbs && is_branch(f))) continue;
        for (const Surface& side : surfaces_of(f)) add(f.name.empty() ? f.id : f.name, side, climbs);
    }
    if (!climbs) return grounds;
    const auto wall = [&](Face face, const std::string& name, const Surface& surface) {
        const scene::Wall& material = enclosure.walls[static_cast<std::size_t>(face)];
        const bool too_smooth = material && material->optics;
        if (material && !too_smooth) add(name, surface, true);
    };
    wall(Face::left, "the left wall", rectangle(Vec3::Zero(), y, z, Vec3::UnitX()));
    wall(Face::right, "the right wall", rectangle(x, y, z, -Vec3::UnitX()));
    wall(Face::front, "the front wall", rectangle(Vec3::Zero(), x, z, Vec3::UnitY()));
    wall(Face::back, "the back wall", rectangle(y, x, z, -Vec3::UnitY()));
    return grounds;
}

struct Cells {
    int across;
    int along;
    int count() const { return across * along; }
};

Cells cells_of(const Surface& surface, double spacing) {
    const auto parts = [&](double length) {
        return std::max(1, static_cast<int>(std::lround(length / spacing)));
    };
    return {parts(surface.width), parts(surface.height)};
}

double spacing_for(const std::vector<Ground>& grounds, const ReachOptions& options) {
    double spacing = options.spacing;
    const auto points = [&] {
        double sum = 0;
        for (const Ground& g : grounds) {
            sum += std::max(1.0, g.surface.width / spacing) * std::max(1.0, g.surface.height / spacing);
        }
        return sum;
    };
    // Each piece keeps one point whatever the spacing, so widening stops once there is one a piece.
    const double most =
        std::max(static_cast<double>(options.most_points), static_cast<double>(grounds.size()));
    while (points() > most && spacing < 100) spacing *= 1.05;
    return spacing;
}

bool is_in_lamp(const Vec3& place, const scene::Lamp& lamp) {
    const auto* tube = std::get_if<scene::Tube>(&lamp.shape);
    if (tube == nullptr) return false;
    const Vec3 from = place - lamp.centre;
    const double along = std::clamp(from.dot(tube->along), -tube->length / 2, tube->length / 2);
    return (from - along * tube->along).norm() < tube->diameter / 2;
}

// Whether an animal whose back is at `back` has room: nothing between its feet and its back, nor over the
// edge.
class Room {
  public:
    explicit Room(const Enclosure& enclosure) : enclosure_(&enclosure) {
        for (const scene::Furniture& f : enclosure.furniture) solids_.emplace_back(f);
    }
    bool holds(const Vec3& feet, const Vec3& away, const Vec3& back) const {
        const scene::Box box = {Vec3::Zero(), enclosure_->size};
        if (!box.contains(back, 1e-9) || !box.contains(feet, 1e-9)) return false;
        for (const scene::Lamp& lamp : enclosure_->lamps) {
            if (is_in_lamp(back, lamp)) return false;
        }
        constexpr double just_off = 1e-4;  // m, clear of the surface itself
        for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
            const Vec3 place = feet + just_off * away + share * (back - feet);
            if (std::any_of(solids_.begin(), solids_.end(), [&](const Solid& s) { return s.holds(place); })) {
                return false;
            }
        }
        return true;
    }

  private:
    const Enclosure* enclosure_;
    std::vector<Solid> solids_;
};

double fraction(double x) {
    return x - std::floor(x);
}

// The R2 sequence (Roberts 2018, "The unreasonable effectiveness of quasirandom sequences"): steps by the
// powers of the plastic number.
struct Jitter {
    double u = 0.5;
    double v = 0.5;
    void advance() {
        u = fraction(u + 0.7548776662466927);
        v = fraction(v + 0.5698402909980532);
    }
};

}  // namespace

Reach reach_of(const Enclosure& enclosure, double back_height, bool climbs, const ReachOptions& options) {
    Reach reach;
    const std::vector<Ground> grounds = grounds_of(enclosure, climbs, reach.surfaces);
    const double spacing = spacing_for(grounds, options);
    const double least_upward = std::cos(options.steepest);
    const Room room(enclosure);
    Jitter jitter;
    for (const Ground& ground : grounds) {
        const Cells cells = cells_of(ground.surface, spacing);
        for (int i = 0; i < cells.count(); ++i, jitter.advance()) {
            const int row = i / cells.across;
            const double u = (i % cells.across + jitter.u) / cells.across;
            const double v = (row + jitter.v) / cells.along;
            const SurfacePoint at = ground.surface.at(u, v);
            const bool stands = at.normal.z() >= least_upward;
            if (!stands && !ground.clung_to) continue;
            const Vec3 back = at.place + back_height * (stands ? Vec3(Vec3::UnitZ()) : at.normal);
            if (!room.holds(at.place, at.normal, back)) continue;
            reach.points.push_back(back);
            reach.feet.push_back(at.place);
            reach.area.push_back(at.stretch * ground.surface.area / cells.count());
            reach.on.push_back(ground.name);
        }
    }
    return reach;
}

}  // namespace dapple::husbandry
