#include "inference/fit_response.h"

#include <algorithm>
#include <cmath>

namespace dapple::inference {

namespace {

using scene::Vec3;

constexpr double test_veil = 0.5;  // held before a screen to see how much light comes through it

scene::Enclosure with_veil_before(scene::Enclosure enclosure, int screen) {
    scene::Screen& changed = enclosure.screens[static_cast<std::size_t>(screen)];
    if (changed.transmittance) {
        *changed.transmittance *= test_veil;
    } else {
        scene::Screen veil = changed;
        veil.kind = scene::Veil{};
        veil.transmittance = test_veil;
        enclosure.screens.push_back(std::move(veil));
    }
    return enclosure;
}

scene::Enclosure with_density(scene::Enclosure enclosure, int foliage, double factor) {
    enclosure.foliage[static_cast<std::size_t>(foliage)].leaf_area_density *= factor;
    return enclosure;
}

// Places all over the enclosure, for what a change does on average.
std::vector<Vec3> lattice(const Vec3& size) {
    std::vector<Vec3> points;
    for (int i = 0; i < 6; ++i) {
        for (int j = 0; j < 4; ++j) {
            for (int k = 0; k < 4; ++k) {
                points.emplace_back((i + 0.5) / 6 * size.x(), (j + 0.5) / 4 * size.y(),
                                    (k + 0.5) / 5 * size.z());
            }
        }
    }
    return points;
}

double sum(const std::vector<double>& values) {
    double all = 0;
    for (const double value : values) all += value;
    return all;
}

// log of a foliage bend and its derivative: quadratic within one sd, straight beyond.
struct Log {
    double value;
    double slope;
};
Log foliage_log(const Response::Bend& bend, double s, double sd) {
    const double inside = std::clamp(s, -sd, sd);
    const double slope = bend.a + 2 * bend.c * inside;
    return {bend.a * inside + bend.c * inside * inside + slope * (s - inside), slope};
}

}  // namespace

ResponseField::ResponseField(const scene::Enclosure& enclosure, std::vector<Unknown> unknowns,
                             const light::FieldOptions& options)
    : unknowns_(std::move(unknowns)),
      field_(enclosure, options),
      direct_(enclosure, {0}),
      lamp_unknown_(enclosure.lamps.size(), -1) {
    const std::vector<Vec3> places = lattice(enclosure.size);
    const auto base = direct_.values_by_lamp(places, spectrum::Quantity::irradiance, light::Facing::up());
    for (std::size_t u = 0; u < unknowns_.size(); ++u) {
        const Unknown& unknown = unknowns_[u];
        if (unknown.kind == Unknown::Kind::lamp) {
            lamp_unknown_[static_cast<std::size_t>(unknown.index)] = static_cast<int>(u);
        }
        Changed changed{u, {}, {}};
        if (unknown.kind == Unknown::Kind::screen) {
            changed.fields.emplace_back(with_veil_before(enclosure, unknown.index), light::FieldOptions{0});
        } else if (unknown.kind == Unknown::Kind::foliage) {
            for (const double sign : {-1.0, 1.0}) {
                changed.fields.emplace_back(
                    with_density(enclosure, unknown.index, std::exp(sign * unknown.sd)),
                    light::FieldOptions{0});
            }
        } else {
            continue;
        }
        for (const light::Field& field : changed.fields) {
            const auto now =
                field.values_by_lamp(places, spectrum::Quantity::irradiance, light::Facing::up());
            std::vector<double> ratios;
            for (std::size_t l = 0; l < base.size(); ++l) {
                const double before = sum(base[l]);
                ratios.push_back(before > 0 ? sum(now[l]) / before : 1);
            }
            changed.on_average.push_back(std::move(ratios));
        }
        changed_.push_back(std::move(changed));
    }
}

std::vector<std::vector<Response::Bend>> ResponseField::bends(
    const Changed& changed, std::span<const Vec3> points, spectrum::Quantity quantity,
    const light::Facing& facing, const std::vector<std::vector<double>>& direct) const {
    std::vector<std::vector<std::vector<double>>> now;
    for (const light::Field& field : changed.fields) {
        now.push_back(field.values_by_lamp(points, quantity, facing));
    }
    const double sd = unknowns_[changed.unknown].sd;
    std::vector<std::vector<Response::Bend>> all(direct.size(), std::vector<Response::Bend>(points.size()));
    for (std::size_t l = 0; l < direct.size(); ++l) {
        for (std::size_t p = 0; p < points.size(); ++p) {
            const auto ratio = [&](std::size_t i) {
                return direct[l][p] > 0 ? now[i][l][p] / direct[l][p] : changed.on_average[i][l];
            };
            if (now.size() == 1) {
                all[l][p].a = std::clamp((1 - ratio(0)) / (1 - test_veil), 0.0, 1.0);
                continue;
            }
            // Leaves so dense that nothing passes leave a ratio of 0 to 0; a floor keeps the logarithm finite.
            const double down = std::log(std::clamp(ratio(0), 1e-3, 1e3));
            const double up = std::log(std::clamp(ratio(1), 1e-3, 1e3));
            all[l][p] = {(up - down) / (2 * sd), (up + down) / (2 * sd * sd)};
        }
    }
    return all;
}

Response ResponseField::at(std::span<const Vec3> points, spectrum::Quantity quantity,
                           const light::Facing& facing, bool exact) const {
    Response response;
    if (exact && quantity == spectrum::Quantity::uvi) {
        response.light.assign(enclosure().lamps.size(), {});
        for (const Vec3& point : points) {
            const light::Arrival arrival = field_.at(point, facing);
            for (std::size_t l = 0; l < response.light.size(); ++l) {
                response.light[l].push_back(arrival.measure(quantity, static_cast<int>(l)));
            }
        }
    } else {
        response.light = field_.values_by_lamp(points, quantity, facing);
    }
    if (changed_.empty()) return response;
    const auto direct = direct_.values_by_lamp(points, quantity, facing);
    for (const Changed& changed : changed_) {
        response.bends.push_back(bends(changed, points, quantity, facing, direct));
    }
    return response;
}

double ResponseField::value(const Response& response, std::size_t place, const double* unknowns,
                            std::span<const int> also, Eigen::VectorXd* derivatives) const {
    if (derivatives != nullptr) derivatives->setZero(static_cast<Eigen::Index>(unknowns_.size()));
    double total = 0;
    std::vector<double> slopes(derivatives != nullptr ? changed_.size() : 0);
    for (std::size_t l = 0; l < response.light.size(); ++l) {
        double light = response.light[l][place];
        if (light == 0) continue;
        const int lamp = lamp_unknown_[l];
        const int more = also.empty() ? -1 : also[l];
        if (lamp >= 0) light *= std::exp(unknowns[lamp]);
        if (more >= 0) light *= std::exp(unknowns[more]);
        for (std::size_t k = 0; k < changed_.size(); ++k) {
            const Unknown& unknown = unknowns_[changed_[k].unknown];
            const Response::Bend& bend = response.bends[k][l][place];
            const double s = unknowns[changed_[k].unknown];
            if (unknown.kind == Unknown::Kind::screen) {
                const double through = bend.a * std::exp(s);
                const double factor = 1 - bend.a + through;
                if (derivatives != nullptr) slopes[k] = factor > 0 ? through / factor : 0;
                light *= factor;
            } else {
                const Log log = foliage_log(bend, s, unknown.sd);
                if (derivatives != nullptr) slopes[k] = log.slope;
                light *= std::exp(log.value);
            }
        }
        total += light;
        if (derivatives == nullptr) continue;
        if (lamp >= 0) (*derivatives)[lamp] += light;
        if (more >= 0) (*derivatives)[more] += light;
        for (std::size_t k = 0; k < changed_.size(); ++k) {
            (*derivatives)[static_cast<Eigen::Index>(changed_[k].unknown)] += slopes[k] * light;
        }
    }
    return total;
}

// Hundreds of fields are drawn from a posterior: what is the same at every place is worked out once, and there is one
// exponential a place, however many plants stand in the way.
std::vector<double> ResponseField::values(const Response& response, const double* unknowns) const {
    const auto places = static_cast<Eigen::Index>(response.places());
    Eigen::ArrayXd total = Eigen::ArrayXd::Zero(places);
    Eigen::ArrayXd exponent(places);
    for (std::size_t l = 0; l < response.light.size(); ++l) {
        const int lamp = lamp_unknown_[l];
        Eigen::ArrayXd light = Eigen::Map<const Eigen::ArrayXd>(response.light[l].data(), places);
        if (lamp >= 0) light *= std::exp(unknowns[lamp]);
        bool has_foliage = false;
        exponent.setZero();
        for (std::size_t k = 0; k < changed_.size(); ++k) {
            const Unknown& unknown = unknowns_[changed_[k].unknown];
            const std::vector<Response::Bend>& bends = response.bends[k][l];
            const double s = unknowns[changed_[k].unknown];
            if (unknown.kind == Unknown::Kind::screen) {
                const double more = std::exp(s) - 1;
                for (Eigen::Index p = 0; p < places; ++p)
                    light[p] *= 1 + bends[static_cast<std::size_t>(p)].a * more;
            } else {
                has_foliage = true;
                for (Eigen::Index p = 0; p < places; ++p)
                    exponent[p] += foliage_log(bends[static_cast<std::size_t>(p)], s, unknown.sd).value;
            }
        }
        if (has_foliage) light *= exponent.exp();
        total += light;
    }
    return {total.begin(), total.end()};
}

}  // namespace dapple::inference
