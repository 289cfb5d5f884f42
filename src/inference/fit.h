// The fit: from the computed field of a document to the field of the enclosure that was measured.
//
// Unknown, each as the logarithm of a factor with a normal prior about 0: every lamp's output, every mesh's and veil's
// transmittance, every plant's density, a factor common to all readings of one meter; and, where a reading is of
// another part of the spectrum than the lamp's output was given in, that lamp's share of it.
//
// A reading v of a light m, by a meter factor k, is normal in ln(v + f) about ln(k m + f), f being the meter's floor,
// with variance  (noise^2 m^2 / repeats + f^2) / (m + f)^2 + (what a placement error of 2 cm does)^2;
// or, once in twelve, spoiled: anything from a twentieth to twenty times what is there, more often too little than too
// much (a leaf, a hand). The fit maximises the posterior of this mixture by expectation-maximisation (Dempster, Laird
// & Rubin 1977, J. R. Stat. Soc. B 39:1-38; Hogg, Bovy & Lang 2010, arXiv:1008.4686, section 3, for the mixture) with
// Ceres solving each weighted least-squares problem, from several starts; the posterior is then taken as normal
// (Laplace). All numbers of FitOptions without a source are our judgement.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "inference/fit_response.h"
#include "inference/readings.h"

namespace dapple::inference {

struct FitOptions {
    double lamp_sd = 0.25;
    double screen_sd = 0.15;
    double foliage_sd = 0.5;
    double spectrum_sd = 0.2;
    double meter_sd = 0.05;
    double noise = 0.08;      // of a single value, relative
    double placement = 0.02;  // m, one standard deviation along each axis
    double spoiled = 1.0 / 12;
    light::FieldOptions field = {};
};

// The meter's floor, in the quantity's own unit: 0.05 UVI, 10 lux, 0.02 W/m2 in the UV, 1 W/m2 in all.
double floor_of(spectrum::Quantity quantity);

using Interval = std::pair<double, double>;

struct Factor {
    Unknown unknown;
    double value;       // the factor's posterior median
    Interval interval;  // 90 %
};

struct SetAside {
    std::string reading;  // in words, with its line
    std::string why;
    std::size_t index;  // among the readings given
};

struct Prediction {
    double value;               // posterior median
    double sd;                  // of its logarithm
    Interval interval() const;  // 90 %
};

struct Fit {
    std::vector<Factor> factors;
    std::vector<SetAside> set_aside;
    std::vector<std::string> doubts;       // in sentences: why not to believe the fit
    std::vector<std::string> cannot_tell;  // in sentences
    std::vector<std::string> unused;  // readings that say nothing of the light (temperatures), in sentences

    std::vector<Unknown> unknowns;
    Eigen::VectorXd mean;        // of the unknowns
    Eigen::MatrixXd covariance;  // of the unknowns
    std::shared_ptr<const ResponseField> response;

    // Light that would be found at a place.
    Prediction predict(const Response& places, std::size_t place) const;

    // Unknowns drawn from the posterior.
    std::vector<Eigen::VectorXd> draw(std::size_t count, std::mt19937_64& random) const;
};

// With no readings it is the prior.
Fit fit(const scene::Enclosure& enclosure, const std::vector<Reading>& readings,
        const FitOptions& options = {});

// contract.md, `fit --json`; and for the terminal.
nlohmann::json to_json(const Fit& fit, const std::vector<std::pair<std::string, Prediction>>& spots);
std::string to_text(const Fit& fit, const std::vector<std::pair<std::string, Prediction>>& spots);

// What an answer that rests on the fit must say of its readings: which were set aside and why, which say nothing, and
// why not to believe it; in sentences.
std::vector<std::string> notes(const Fit& fit);

// What the fit says of the enclosure's spots, by id. Fails where a species is unknown.
Expected<std::vector<std::pair<std::string, Prediction>>> predict_spots(const Fit& fit);

}  // namespace dapple::inference
