#include "warmth/balance.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "warmth/convection.h"
#include "warmth/flow.h"
#include "warmth/matter.h"
#include "warmth/openings.h"
#include "warmth/radiation.h"

namespace dapple::warmth {

namespace {

using scene::Enclosure;
using scene::Face;
constexpr std::size_t count =
    surfaces + 3;  // unknown temperatures: surfaces, lower air, upper air, radiant mean
constexpr std::size_t lower = surfaces;
constexpr std::size_t upper = surfaces + 1;
constexpr std::size_t radiant = surfaces + 2;
using Vector = Eigen::Matrix<double, static_cast<int>(count), 1>;
using Matrix = Eigen::Matrix<double, static_cast<int>(count), static_cast<int>(count)>;

constexpr double outside_emissivity = 0.9;
constexpr double rises = 0.5;  // share of what a warm surface below gives to the air that goes straight up

struct Surface {
    double area = 0;
    double emissivity = 0.9;
    double length = 0.1;  // m, for convection
    Side side = Side::vertical;
    bool up = false;          // in the upper layer
    Face face = Face::floor;  // of a wall
    bool wall = true;         // it leads out
};

double out_through(const Enclosure& enclosure, Face face, double inside_k, double room_k) {
    return wall_conductance(enclosure, face, inside_k, room_k);
}

// The equations; kept apart from their solution.
class Books {
  public:
    Books(const Enclosure& enclosure, const HeatIn& heat, double room_k, const Assumptions& assumptions)
        : enclosure_(enclosure),
          heat_(heat),
          room_k_(room_k),
          assumptions_(assumptions),
          openings_(openings_of(enclosure)) {
        describe();
    }

    double in() const {
        return std::accumulate(heat_.surface.begin(), heat_.surface.end(), 0.0) + heat_.upper_air +
               heat_.lower_air + heat_.radiant;
    }

    // What each node gains, W: zero at rest. Fills in what leaves where `ledger` is given.
    Vector gains(const Vector& t, Balance* ledger = nullptr) const {
        Vector gain = Vector::Zero();
        gain[lower] = heat_.lower_air;
        gain[upper] = heat_.upper_air;
        gain[radiant] = heat_.radiant;
        double rising = std::max(0.0, heat_.lower_air);
        double walls = 0;
        double radiated = 0;
        const double star = black_emittance(t[radiant]);
        for (std::size_t s = 0; s < surfaces; ++s) {
            const Surface& surface = surfaces_[s];
            const auto i = static_cast<Eigen::Index>(s);
            if (surface.area <= 0) {
                gain[i] = room_k_ - t[i];  // nothing there
                continue;
            }
            const std::size_t layer = surface.up ? upper : lower;
            const double air_k = t[static_cast<Eigen::Index>(layer)];
            const double to_air = assumptions_.convection * surface.area * (t[i] - air_k) *
                                  convection(surface.side, surface.length, t[i], air_k);
            const double to_star = emissivity(surface) * surface.area * (black_emittance(t[i]) - star);
            double out = 0;
            if (surface.wall) {
                out = assumptions_.wall_loss * surface.area * (t[i] - room_k_) *
                      out_through(enclosure_, surface.face, t[i], room_k_);
            }
            gain[i] = heat_.surface[s] - to_air - to_star - out;
            gain[radiant] += to_star;
            walls += out;
            const bool from_below = !surface.up && surface.side == Side::up && to_air > 0;
            const double straight_up =
                from_below ? std::min(1.0, rises * assumptions_.plume_share) * to_air : 0;
            gain[upper] += straight_up;
            gain[static_cast<Eigen::Index>(layer)] += to_air - straight_up;
            if (from_below) rising += to_air;
        }
        for (const Opening& opening : openings_) {
            const double open = opening.area * opening.open_share;
            const double out = open * (star - black_emittance(room_k_));
            gain[radiant] -= out;
            radiated += out;
            // Glass over the opening: convection and radiation in series with the same outside, as a thin wall.
            if (opening.glazed > 0) {
                const double mean = (t[upper] + t[radiant]) / 2;
                const double inner = 4 + linear_radiation(outside_emissivity, mean);
                const double through = assumptions_.wall_loss * opening.glazed * 0.5 * inner;
                const double lost_air = through * 4 / inner * (t[upper] - room_k_);
                const double lost_star = through * (1 - 4 / inner) * (t[radiant] - room_k_);
                gain[upper] -= lost_air;
                gain[radiant] -= lost_star;
                walls += lost_air + lost_star;
            }
        }
        const double carried = move_air(t, rising, gain, ledger);
        if (ledger != nullptr) {
            ledger->in_w = in();
            ledger->walls_w = walls;
            ledger->radiated_w = radiated;
            ledger->air_w = carried;
        }
        return gain;
    }

  private:
    void describe() {
        const scene::Vec3& size = enclosure_.size;
        for (const Face face : scene::faces) {
            const auto& wall = enclosure_.walls[static_cast<std::size_t>(face)];
            const bool level = face == Face::floor || face == Face::top;
            const bool side = face == Face::left || face == Face::right;
            for (const bool up : {false, true}) {
                if (level && up != (face == Face::top)) continue;
                Surface& s = surfaces_[static_cast<std::size_t>(surface_of(face, up))];
                s.face = face;
                s.up = up;
                if (!wall) continue;  // an opening has no surface
                s.emissivity = matter_of(wall->id).emissivity;
                if (level) {
                    s.area = size.x() * size.y();
                    s.length = s.area / (2 * (size.x() + size.y()));
                    s.side = face == Face::floor ? Side::up : Side::down;
                } else {
                    s.area = (side ? size.y() : size.x()) * size.z() / 2;
                    s.length = size.z() / 2;
                }
            }
        }
        Surface& things = surfaces_[furniture_surface];
        things.wall = false;
        things.side = Side::up;
        double emitted = 0;
        for (const auto& piece : enclosure_.furniture) {
            const double area = area_of(piece);
            things.area += area;
            emitted += area * matter_of(piece.material.id).emissivity;
        }
        if (things.area > 0) {
            things.emissivity = emitted / things.area;
            // As of a flat square piece of the mean size.
            things.length = std::sqrt(things.area / static_cast<double>(enclosure_.furniture.size())) / 4;
        }
    }

    double emissivity(const Surface& surface) const {
        return std::min(1.0, assumptions_.emissivity * surface.emissivity);
    }

    // Air in below, out above, and between the layers; returns the heat that leaves with it.
    double move_air(const Vector& t, double rising, Vector& gain, Balance* ledger) const {
        const scene::Vec3& size = enclosure_.size;
        const double mean = (t[lower] + t[upper]) / 2;
        const double kelvin = (mean + room_k_) / 2;
        const double volume = size.x() * size.y() * size.z();
        constexpr double second_per_hour = 3600;
        const double flow =
            assumptions_.leak * enclosure_.room.air_changes_per_h * volume / second_per_hour +
            assumptions_.opening_flow * buoyant_flow(openings_, size, t[upper] - room_k_, kelvin);
        const Air air = air_at(kelvin);
        const double heat_per_m3 = air.density * air.specific_heat;
        gain[lower] += heat_per_m3 * flow * (room_k_ - t[lower]);
        gain[upper] += heat_per_m3 * flow * (t[lower] - t[upper]);
        const double inversion = std::max(0.0, t[lower] - t[upper]);
        // A cube root has no slope at nought for Newton to follow: draughts always stir like a tenth of a watt.
        const double stirring = std::hypot(rising, 0.1);
        const double mixing = assumptions_.mixing * plume_flow(stirring, size.z() / 2, kelvin) +
                              level_opening_flow(size.x() * size.y(), inversion, kelvin) + 1e-5;
        const double mixed = heat_per_m3 * mixing * (t[upper] - t[lower]);
        gain[lower] += mixed;
        gain[upper] -= mixed;
        if (ledger != nullptr) ledger->flow = flow;
        return heat_per_m3 * flow * (t[upper] - room_k_);
    }

    const Enclosure& enclosure_;
    const HeatIn& heat_;
    double room_k_;
    const Assumptions& assumptions_;
    std::vector<Opening> openings_;
    std::array<Surface, surfaces> surfaces_;
};

// Newton's method with derivatives by differences. The books have kinks where a surface is as warm as the air and where a
// flow turns; there a step may not help, and is damped as if the nodes had heat capacity (pseudo-transient continuation,
// Kelley & Keyes 1998, SIAM J. Numer. Anal. 35:508-523).
Vector solve(const Books& books, const Vector& start) {
    constexpr double enough_w = 1e-6;
    constexpr double step_k = 1e-4;
    constexpr int rounds = 300;
    Vector t = start;
    Vector gain = books.gains(t);
    double damping = 0;  // W/K
    for (int round = 0; round < rounds && gain.cwiseAbs().maxCoeff() > enough_w; ++round) {
        Matrix slopes;
        for (Eigen::Index i = 0; i < static_cast<Eigen::Index>(count); ++i) {
            Vector moved = t;
            moved[i] += step_k;
            slopes.col(i) = (books.gains(moved) - gain) / step_k;
        }
        const Matrix damped = slopes - damping * Matrix::Identity();
        const Vector step = damped.partialPivLu().solve(-gain);
        double part = std::min(1.0, 30 / std::max(1e-9, step.cwiseAbs().maxCoeff()));
        bool helps = false;
        for (int halving = 0; halving < 8 && !helps; ++halving, part /= 2) {
            const Vector next = t + part * step;
            const Vector next_gain = books.gains(next);
            helps = next_gain.norm() < gain.norm();
            if (!helps) continue;
            t = next;
            gain = next_gain;
        }
        damping = helps ? (damping > 1e-3 ? damping / 4 : 0) : std::max(1e-2, 4 * damping);
        if (damping > 1e6) break;
    }
    return t;
}

}  // namespace

double Balance::closed() const {
    if (!(in_w > 0)) return 0;
    return std::abs(in_w - walls_w - air_w - radiated_w) / in_w;
}

double Balance::air_k(double height, double enclosure_height) const {
    const double share = std::clamp(2 * height / enclosure_height - 0.5, 0.0, 1.0);
    return lower_k + share * (upper_k - lower_k);
}

double wall_conductance(const Enclosure& enclosure, Face face, double inside_k, double room_k) {
    const auto f = static_cast<std::size_t>(face);
    const auto& wall = enclosure.walls[f];
    if (!wall) return 0;
    const Matter& matter = matter_of(wall->id);
    const double thickness = enclosure.room.wall_thickness[f].value_or(matter.thickness);
    const double sheet = matter.conductivity / thickness;
    const bool level = face == Face::floor || face == Face::top;
    const double length =
        level ? enclosure.size.x() * enclosure.size.y() / (2 * (enclosure.size.x() + enclosure.size.y()))
              : enclosure.size.z();
    const Side side = level ? (face == Face::top ? Side::up : Side::down) : Side::vertical;
    double outside_k = inside_k;
    double outer = 0;
    for (int i = 0; i < 4; ++i) {
        outer = convection(side, length, outside_k, room_k) +
                linear_radiation(outside_emissivity, (outside_k + room_k) / 2);
        if (face == Face::floor) outer /= 2;
        outside_k = room_k + (inside_k - room_k) * sheet / (sheet + outer);
    }
    return sheet * outer / (sheet + outer);
}

HeatIn heat_in(const Enclosure& enclosure, const std::vector<LampHeat>& lamps,
               const std::vector<LightShares>& light, const std::vector<double>& on,
               const Assumptions& assumptions) {
    HeatIn heat;
    for (std::size_t l = 0; l < lamps.size(); ++l) {
        const double factor = on[l] * assumptions.lamps[l];
        const double with_light = factor * lamps[l].with_light;
        for (std::size_t s = 0; s < surfaces; ++s) heat.surface[s] += with_light * light[l].surface[s];
        heat.upper_air += with_light * light[l].upper_air;
        heat.lower_air += with_light * light[l].lower_air;
        // Above the lid a lamp's hot body warms the room; of what it radiates, half goes down.
        const bool above = enclosure.lamps[l].centre.z() > enclosure.size.z();
        heat.radiant += factor * lamps[l].body_radiation * (above ? 0.5 : 1.0);
        if (above) continue;
        const bool high = enclosure.lamps[l].centre.z() > enclosure.size.z() / 2;
        (high ? heat.upper_air : heat.lower_air) += factor * lamps[l].body_air;
    }
    return heat;
}

Balance balance(const Enclosure& enclosure, const HeatIn& heat, double room_k,
                const Assumptions& assumptions) {
    const Books books(enclosure, heat, room_k, assumptions);
    Balance result{};
    result.room_k = room_k;
    Vector t = Vector::Constant(room_k);
    if (books.in() > 0) {
        Vector start = Vector::Constant(room_k + 2);
        start[upper] += 2;
        t = solve(books, start);
        books.gains(t, &result);
    }
    result.lower_k = t[lower];
    result.upper_k = t[upper];
    result.radiant_k = t[radiant];
    for (std::size_t s = 0; s < surfaces; ++s) result.surface_k[s] = t[static_cast<Eigen::Index>(s)];
    return result;
}

}  // namespace dapple::warmth
