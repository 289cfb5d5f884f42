#include "advice/carried_fit.h"

#include <algorithm>

#include "inference/fit_model.h"

namespace dapple::advice {

namespace {

using inference::Unknown;

bool is_of_another_make(const Unknown& unknown, const std::vector<Change>& changes) {
    return std::any_of(changes.begin(), changes.end(), [&](const Change& change) {
        const bool exchanged = change.kind == Change::Kind::renew_lamp ||
                               change.kind == Change::Kind::replace_lamp ||
                               change.kind == Change::Kind::replace_screen;
        return exchanged && change.id == unknown.of;
    });
}

// Where the unknown stands among those of the fit, or -1 where readings have said nothing of it.
Eigen::Index place_among(const std::vector<Unknown>& known, const Unknown& unknown,
                         const std::vector<Change>& changes) {
    if (is_of_another_make(unknown, changes)) return -1;
    for (std::size_t i = 0; i < known.size(); ++i) {
        if (known[i].kind == unknown.kind && known[i].of == unknown.of) return static_cast<Eigen::Index>(i);
    }
    return -1;
}

}  // namespace

inference::Fit carried_over(const inference::Fit& fit, const scene::Enclosure& changed,
                            const std::vector<Change>& changes) {
    inference::Fit carried;
    carried.unknowns = inference::list_unknowns(changed, {}, {});
    const auto count = static_cast<Eigen::Index>(carried.unknowns.size());
    std::vector<Eigen::Index> from;
    for (const Unknown& unknown : carried.unknowns) {
        from.push_back(place_among(fit.unknowns, unknown, changes));
    }
    carried.mean = Eigen::VectorXd::Zero(count);
    carried.covariance = Eigen::MatrixXd::Zero(count, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto a = from[static_cast<std::size_t>(i)];
        Unknown& unknown = carried.unknowns[static_cast<std::size_t>(i)];
        if (a < 0) {
            carried.covariance(i, i) = unknown.sd * unknown.sd;
            continue;
        }
        unknown.sd = fit.unknowns[static_cast<std::size_t>(a)].sd;
        carried.mean[i] = fit.mean[a];
        for (Eigen::Index j = 0; j < count; ++j) {
            const auto b = from[static_cast<std::size_t>(j)];
            if (b >= 0) carried.covariance(i, j) = fit.covariance(a, b);
        }
    }
    carried.response =
        std::make_shared<inference::ResponseField>(changed, carried.unknowns, light::FieldOptions{});
    carried.set_aside = fit.set_aside;
    carried.unused = fit.unused;
    return carried;
}

std::vector<std::vector<double>> fitted_factor(const inference::Fit& fit,
                                               std::span<const scene::Vec3> points) {
    const inference::Response all =
        fit.response->at(points, spectrum::Quantity::uvi, light::Facing::aimed(), false);
    const std::size_t lamps = fit.response->enclosure().lamps.size();
    std::vector<std::vector<double>> factors(lamps, std::vector<double>(points.size(), 1.0));
    for (std::size_t l = 0; l < lamps; ++l) {
        inference::Response alone = all;  // of this lamp, as if it gave 1 everywhere
        for (std::size_t other = 0; other < lamps; ++other) {
            std::fill(alone.light[other].begin(), alone.light[other].end(), other == l ? 1.0 : 0.0);
        }
        for (std::size_t p = 0; p < points.size(); ++p) {
            factors[l][p] = fit.response->value(alone, p, fit.mean.data());
        }
    }
    return factors;
}

}  // namespace dapple::advice
