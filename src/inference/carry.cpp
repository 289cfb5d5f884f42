#include "inference/carry.h"

#include <algorithm>
#include <cmath>

#include "inference/fit_model.h"
#include "inference/fit_words.h"

namespace dapple::inference {

namespace {

using Kind = Unknown::Kind;

bool is_same(const Unknown& a, const Unknown& b) {
    return a.kind == b.kind && a.of == b.of && a.group == b.group;
}

int lamp_with(const scene::Enclosure& enclosure, const std::string& id) {
    for (std::size_t i = 0; i < enclosure.lamps.size(); ++i) {
        if (enclosure.lamps[i].id == id) return static_cast<int>(i);
    }
    return -1;
}

// Those of the changed enclosure, then what its readings brought in: meters, and lamps' other parts of the spectrum.
std::vector<Unknown> unknowns_after(const Fit& fit, const scene::Enclosure& changed,
                                    const FitOptions& options) {
    std::vector<Unknown> unknowns = list_unknowns(changed, {}, options);
    for (Unknown unknown : fit.unknowns) {
        if (unknown.kind == Kind::spectrum) {
            unknown.index = lamp_with(changed, unknown.of);
            if (unknown.index < 0) continue;
        } else if (unknown.kind != Kind::meter) {
            continue;
        }
        unknowns.push_back(std::move(unknown));
    }
    return unknowns;
}

// Where the unknown stands among those of the fit, or -1 where its readings have said nothing of it.
Eigen::Index place_among(const std::vector<Unknown>& known, const Unknown& unknown,
                         const std::vector<std::string>& of_another_make) {
    const auto& exchanged = of_another_make;
    const bool is_exchanged = unknown.kind != Kind::meter &&
                              std::find(exchanged.begin(), exchanged.end(), unknown.of) != exchanged.end();
    if (is_exchanged) return -1;
    for (std::size_t i = 0; i < known.size(); ++i) {
        if (is_same(known[i], unknown)) return static_cast<Eigen::Index>(i);
    }
    return -1;
}

}  // namespace

Fit carry(const Fit& fit, const scene::Enclosure& changed, const std::vector<std::string>& of_another_make,
          const FitOptions& options) {
    Fit carried;
    carried.unknowns = unknowns_after(fit, changed, options);
    const auto count = static_cast<Eigen::Index>(carried.unknowns.size());
    carried.mean = Eigen::VectorXd::Zero(count);
    carried.covariance = Eigen::MatrixXd::Zero(count, count);
    std::vector<Eigen::Index> from;
    for (Unknown& unknown : carried.unknowns) {
        from.push_back(place_among(fit.unknowns, unknown, of_another_make));
        if (from.back() >= 0) unknown.sd = fit.unknowns[static_cast<std::size_t>(from.back())].sd;
    }
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto a = from[static_cast<std::size_t>(i)];
        const double prior = carried.unknowns[static_cast<std::size_t>(i)].sd;
        if (a < 0) {
            carried.covariance(i, i) = prior * prior;
            continue;
        }
        carried.mean[i] = fit.mean[a];
        for (Eigen::Index j = 0; j < count; ++j) {
            const auto b = from[static_cast<std::size_t>(j)];
            if (b >= 0) carried.covariance(i, j) = fit.covariance(a, b);
        }
    }
    for (Eigen::Index i = 0; i < count; ++i) {
        const Prediction factor{std::exp(carried.mean[i]), std::sqrt(carried.covariance(i, i))};
        carried.factors.push_back(
            {carried.unknowns[static_cast<std::size_t>(i)], factor.value, factor.interval()});
    }
    carried.set_aside = fit.set_aside;
    carried.doubts = fit.doubts;
    carried.unused = fit.unused;
    carried.cannot_tell = what_cannot_be_told(carried.unknowns, carried.covariance);
    carried.response = std::make_shared<ResponseField>(changed, carried.unknowns, options.field);
    return carried;
}

}  // namespace dapple::inference
