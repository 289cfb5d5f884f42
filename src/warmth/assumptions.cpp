#include "warmth/assumptions.h"

#include <cmath>

#include "warmth/lamp_heat.h"

namespace dapple::warmth {

std::vector<Assumption> assumptions_of(const scene::Enclosure& enclosure) {
    std::vector<Assumption> all = {
        {"room", "the room's temperature", 1.0, &Assumptions::room_k},
        {"absorptance", "how much lamp light surfaces absorb", 0.08, &Assumptions::absorptance},
        {"convection", "natural convection inside", 0.15, &Assumptions::convection},
        {"emissivity", "the emissivity of surfaces", 0.03, &Assumptions::emissivity},
        {"conduction", "conduction into the material", 0.4, &Assumptions::conduction},
        {"wall_loss", "the loss through the walls", 0.25, &Assumptions::wall_loss},
        {"opening_flow", "the air through open sides and mesh", 0.4, &Assumptions::opening_flow},
        {"leak", "the air through gaps", 0.7, &Assumptions::leak},
        {"mixing", "the mixing of the air's layers", 0.7, &Assumptions::mixing},
        {"plume_share", "how much warm air rises to the upper layer", 0.3, &Assumptions::plume_share},
        {"infrared", "infrared beyond the lamps' spectra", 0.3, &Assumptions::infrared},
        {"body", "the radiation of the lamps' bodies", 0.3, &Assumptions::body},
    };
    for (std::size_t l = 0; l < enclosure.lamps.size(); ++l) {
        const scene::Lamp& lamp = enclosure.lamps[l];
        if (!(lamp_heat(lamp).power() > 0)) continue;
        all.push_back({lamp.id, "the heat of " + lamp.name, 0.2, nullptr, static_cast<int>(l)});
    }
    return all;
}

Assumptions as_published(const scene::Enclosure& enclosure) {
    Assumptions assumptions;
    assumptions.lamps.assign(enclosure.lamps.size(), 1.0);
    return assumptions;
}

void move(Assumptions& assumptions, const Assumption& assumption, double by) {
    if (assumption.value == &Assumptions::room_k) {
        assumptions.room_k += by;
        return;
    }
    double& factor = assumption.value != nullptr
                         ? assumptions.*assumption.value
                         : assumptions.lamps[static_cast<std::size_t>(assumption.lamp)];
    factor *= std::exp(by);
}

Assumptions moved(const scene::Enclosure& enclosure, const std::vector<Assumption>& assumptions,
                  const Eigen::VectorXd& by) {
    Assumptions result = as_published(enclosure);
    for (std::size_t i = 0; i < assumptions.size(); ++i) {
        move(result, assumptions[i], by[static_cast<Eigen::Index>(i)]);
    }
    return result;
}

Belief prior(const std::vector<Assumption>& assumptions) {
    const auto n = static_cast<Eigen::Index>(assumptions.size());
    Belief belief{Eigen::VectorXd::Zero(n), Eigen::MatrixXd::Zero(n, n)};
    for (Eigen::Index i = 0; i < n; ++i) {
        const double sd = assumptions[static_cast<std::size_t>(i)].sd;
        belief.covariance(i, i) = sd * sd;
    }
    return belief;
}

}  // namespace dapple::warmth
