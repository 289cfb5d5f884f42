// Readings as equations in the unknowns (fit.h says which): what each leads one to expect, and how far it may be off.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "inference/fit.h"

namespace dapple::inference {

// Everything that is unknown for these readings, in the order ResponseField asks for.
std::vector<Unknown> list_unknowns(const scene::Enclosure& enclosure, const std::vector<Reading>& readings,
                                   const FitOptions& options);

// What a placement error does to ln(v + floor): a spread where the light changes smoothly, and steps across a shadow's
// edge, each with its probability.
struct Placement {
    double sd = 0;
    std::vector<std::pair<double, double>> steps;  // probability, change
};

// By Gauss-Hermite quadrature of three nodes an axis over normal errors.
Placement placement_at(const ResponseField& field, const scene::Vec3& point, spectrum::Quantity quantity,
                       const light::Facing& facing, double error);

// One reading with its place's response.
struct Observation {
    std::size_t index;  // among the readings given
    double value;       // as read
    double floor;       // in its quantity's unit
    double repeats;     // how many values the robust one is worth
    double scatter;     // relative, of a single value
    Placement placement;
    Response response;  // of one place
    std::vector<int>
        spectrum;    // by lamp: the unknown of its share in the reading's part of the spectrum, or -1
    int meter = -1;  // the unknown of its meter
};

std::vector<Observation> observe(const ResponseField& field, const std::vector<Unknown>& unknowns,
                                 const std::vector<Reading>& readings, const FitOptions& options);

// ln(expected + floor), its derivatives, and the standard deviation about it.
struct Expectation {
    double expected;  // the meter's value
    double logarithm;
    double sd;
};
Expectation expect(const ResponseField& field, const Observation& seen, const Eigen::VectorXd& unknowns,
                   Eigen::VectorXd* derivatives = nullptr);

}  // namespace dapple::inference
