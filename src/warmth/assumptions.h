// What the thermal model takes for granted, each with how far it may be off. The same list makes the interval about a
// prediction, the table of sensitivities and the unknowns of the fit to thermometer readings.
//
// Factors are log-normal about 1, `room_k` normal about 0. The spreads are our judgement from the sources' own stated
// accuracy (correlations 10-20 %: Incropera & DeWitt) and from how much keepers' enclosures differ.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "scene/enclosure.h"

namespace dapple::warmth {

struct Assumptions {
    double room_k = 0;          // K added to the room's air
    double absorptance = 1;     // of surfaces for lamp light
    double convection = 1;      // every natural convection inside
    double emissivity = 1;      // of surfaces
    double conduction = 1;      // from a basking surface into its material
    double wall_loss = 1;       // through walls and floor
    double opening_flow = 1;    // of air through open and screened sides
    double leak = 1;            // of air through gaps
    double mixing = 1;          // of air between the layers
    double plume_share = 1;     // of a warm surface's heat that rises into the upper layer
    double infrared = 1;        // that goes with the light beyond what was measured
    double body = 1;            // the radiant share of a lamp's body
    std::vector<double> lamps;  // by lamp: its light and heat, as the keeper's output and power have it
};

struct Assumption {
    std::string of;                        // for answers: "convection", a lamp's id
    std::string words;                     // for sentences: "the heat of Heat lamp"
    double sd;                             // of the logarithm; of room_k in K
    double Assumptions::*value = nullptr;  // null: a lamp's
    int lamp = -1;
};

std::vector<Assumption> assumptions_of(const scene::Enclosure& enclosure);

// What is believed of the list's members, as steps from the published values: their mean and covariance.
struct Belief {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
};
Belief prior(const std::vector<Assumption>& assumptions);

// All as published.
Assumptions as_published(const scene::Enclosure& enclosure);

// The assumption moved by `by`: added to room_k, else to the factor's logarithm.
void move(Assumptions& assumptions, const Assumption& assumption, double by);

// All of a list moved from the published values.
Assumptions moved(const scene::Enclosure& enclosure, const std::vector<Assumption>& assumptions,
                  const Eigen::VectorXd& by);

}  // namespace dapple::warmth
