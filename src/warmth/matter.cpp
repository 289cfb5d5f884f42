#include "warmth/matter.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace dapple::warmth {

namespace {

struct Named {
    std::string_view id;
    Matter matter;
};
constexpr std::array table = {
    Named{"acrylic", {0.19, 0.92, 0.005, "PMMA; acrylic or PVC"}},
    Named{"acrylic_extruded", {0.19, 0.92, 0.005, "PMMA; acrylic or PVC"}},
    Named{"acrylic_uv_blocking", {0.19, 0.92, 0.005, "PMMA; acrylic or PVC"}},
    Named{"acrylic_uv_transmitting", {0.19, 0.92, 0.005, "PMMA; acrylic or PVC"}},
    Named{"aluminium", {237, 0.04, 0.002, "aluminium; polished"}},
    Named{"aluminium_anodised", {237, 0.82, 0.002, "aluminium; anodised"}},
    Named{"aluminium_weathered", {237, 0.11, 0.002, "aluminium; oxidised"}},
    Named{"bark", {0.12, 0.86, 0.02, "pine across grain; wood"}},
    Named{"black", {0.12, 0.98, 0.010, "plywood; black paint"}},
    Named{"concrete", {1.4, 0.93, 0.05, "concrete; brick or stone"}},
    Named{"cork_bark", {0.039, 0.90, 0.03, "cork"}},
    Named{"dry_sand", {0.27, 0.90, 0.05, "sand dry"}},
    Named{"float_glass", {1.4, 0.90, 0.005, "glass soda lime; window"}},
    Named{"grass", {0.52, 0.95, 0.05, "soil moist; vegetation"}},
    Named{"leaf", {0.52, 0.95, 0.001, "soil moist; vegetation"}},
    Named{"leaf_litter", {0.12, 0.95, 0.04, "pine across grain; vegetation"}},
    Named{"moss", {0.52, 0.95, 0.03, "soil moist; vegetation"}},
    Named{"petg", {0.20, 0.92, 0.005, "polycarbonate; acrylic or PVC"}},
    Named{"polycarbonate", {0.20, 0.92, 0.005, "polycarbonate; acrylic or PVC"}},
    Named{"polycarbonate_uv_stabilised", {0.20, 0.92, 0.005, "polycarbonate; acrylic or PVC"}},
    Named{"polystyrene", {0.03, 0.92, 0.03, "polystyrene foam; acrylic or PVC"}},
    Named{"ptfe_white", {0.20, 0.92, 0.005, "polycarbonate; acrylic or PVC"}},
    Named{"pvc_black", {0.19, 0.92, 0.006, "PVC rigid; acrylic or PVC"}},
    Named{"pvc_clear", {0.19, 0.92, 0.005, "PVC rigid; acrylic or PVC"}},
    Named{"pvc_white", {0.19, 0.92, 0.006, "PVC rigid; acrylic or PVC"}},
    Named{"slate", {1.5, 0.93, 0.03, "slate across; brick or stone"}},
    Named{"snow", {0.12, 0.85, 0.05, "plywood, for want of a row; snow"}},
    Named{"soil", {0.52, 0.94, 0.08, "soil moist; soil"}},
    Named{"stainless_steel", {15, 0.17, 0.001, "stainless steel (table A.1); polished"}},
    Named{"water", {0.606, 0.96, 0.10, "water, at rest"}},
    Named{"white_paint", {0.12, 0.90, 0.010, "plywood; white paint"}},
    Named{"wood", {0.12, 0.86, 0.010, "plywood; wood"}},
};

}  // namespace

const Matter& matter_of(std::string_view material_id) {
    static constexpr Matter other = {0.12, 0.90, 0.010, "plywood; paint"};
    const auto it =
        std::find_if(table.begin(), table.end(), [&](const Named& n) { return n.id == material_id; });
    return it == table.end() ? other : it->matter;
}

Optical optical(const spectrum::Material& material, const spectrum::Spectrum& relative,
                double sheet_thickness) {
    const double all = relative.sum();
    if (!(all > 0)) return {};
    Optical shares;
    shares.reflected = std::clamp((material.reflectance * relative).sum() / all, 0.0, 1.0);
    if (material.optics && sheet_thickness > 0) {
        const auto through =
            spectrum::pane_transmittance(*material.optics, sheet_thickness, std::numbers::sqrt2 / 2);
        shares.transmitted = std::clamp((through * relative).sum() / all, 0.0, 1.0 - shares.reflected);
    }
    return shares;
}

}  // namespace dapple::warmth
