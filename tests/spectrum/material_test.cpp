#include "spectrum/material.h"

#include <gtest/gtest.h>

#include <set>

#include "columns.h"

namespace dapple::spectrum {

using tests::at;
using tests::read_reference;

TEST(Materials, carry_what_the_documents_promise) {
    for (const char* id :
         {"black", "float_glass", "acrylic", "polycarbonate", "pvc_white", "pvc_black", "wood", "bark",
          "cork_bark", "slate", "soil", "dry_sand", "leaf_litter", "moss", "aluminium", "water"}) {
        EXPECT_NE(find_material(id), nullptr) << id;
    }
    EXPECT_EQ(find_material("unobtainium"), nullptr);
}

TEST(Materials, say_where_they_come_from_and_stay_within_what_a_surface_can_reflect) {
    std::set<std::string> ids;
    for (const auto& material : materials()) {
        EXPECT_TRUE(ids.insert(material.id).second) << material.id;
        EXPECT_FALSE(material.name.empty()) << material.id;
        EXPECT_FALSE(material.source.empty()) << material.id;
        EXPECT_TRUE(material.confidence == "high" || material.confidence == "medium" ||
                    material.confidence == "low")
            << material.id << ": " << material.confidence;
        ASSERT_EQ(material.reflectance.size(), samples);
        EXPECT_GE(material.reflectance.minCoeff(), 0) << material.id;
        EXPECT_LE(material.reflectance.maxCoeff(), 1) << material.id;
        if (!material.optics) continue;
        EXPECT_GE(material.optics->index.minCoeff(), 1) << material.id;
        EXPECT_LE(material.optics->index.maxCoeff(), 2) << material.id;
        EXPECT_GE(material.optics->absorption_per_m.minCoeff(), 0) << material.id;
        EXPECT_TRUE(material.optics->absorption_per_m.isFinite().all()) << material.id;
    }
}

TEST(Materials, named_as_estimates_are_of_low_or_medium_confidence) {
    for (const auto& material : materials()) {
        const bool estimate = material.source.starts_with("estimate");
        EXPECT_FALSE(estimate && material.confidence == "high") << material.id;
    }
}

TEST(Black, reflects_exactly_nothing) {
    EXPECT_EQ(find_material("black")->reflectance.maxCoeff(), 0);
}

TEST(Gray, reflects_the_same_at_every_wavelength) {
    const auto half = gray("card", 0.5);
    EXPECT_EQ(half.id, "card");
    EXPECT_EQ(half.reflectance.minCoeff(), 0.5);
    EXPECT_EQ(half.reflectance.maxCoeff(), 0.5);
    EXPECT_FALSE(half.optics);
    EXPECT_FALSE(half.source.empty());
}

TEST(Materials, reflect_what_the_check_table_says_row_by_row) {
    const std::map<std::string, std::string> ours = {{"wood_pine_weathered", "wood"},
                                                     {"slate", "slate"},
                                                     {"moss", "moss"},
                                                     {"leaf_litter", "leaf_litter"},
                                                     {"cork_bark", "cork_bark"},
                                                     {"pvc_white", "pvc_white"},
                                                     {"pvc_black", "pvc_black"},
                                                     {"aluminium_clean_evaporated", "aluminium"},
                                                     {"grass_green", "grass"},
                                                     {"dry_sand", "dry_sand"},
                                                     {"white_ptfe", "ptfe_white"},
                                                     {"aluminium_weathered", "aluminium_weathered"}};
    std::size_t rows = 0;
    for (const auto& row : read_reference("checks/material_optics.csv")) {
        const auto found = ours.find(row.at("material"));
        if (found == ours.end()) continue;
        ++rows;
        for (const int nm : {300, 320, 350, 400, 550, 850}) {
            const auto cell = row.at("at_" + std::to_string(nm) + "_nm");
            EXPECT_NEAR(at(find_material(found->second)->reflectance, nm), std::stod(cell), 1e-4)
                << found->second << ' ' << nm;
        }
    }
    EXPECT_EQ(rows, ours.size());
}

TEST(Water, mirrors_the_sky_as_deep_water_does) {
    // Diffuse reflectance of a flat water surface 0.066 (Preisendorfer; Burt 1954, material_optics.csv).
    EXPECT_NEAR(at(find_material("water")->reflectance, 500), 0.066, 0.001);
}

TEST(Water, is_clear_to_uv_over_a_hand_and_dark_to_the_infrared) {
    // Internal transmittance of 100 mm (material_optics.csv): the whole sheet divided by its two faces, whose
    // inter-reflections weigh less than 0.1 %.
    const auto& optics = *find_material("water")->optics;
    for (const auto& row : read_reference("checks/material_optics.csv")) {
        if (row.at("material") != "water_pure") continue;
        const auto sheet = pane_transmittance(optics, 0.1, 1);
        for (const int nm : {300, 320, 350, 400, 550, 850}) {
            const double n = at(optics.index, nm);
            const double faces = std::pow(4 * n / ((n + 1) * (n + 1)), 2);
            EXPECT_NEAR(at(sheet, nm) / faces, tests::number(row, "at_" + std::to_string(nm) + "_nm"), 0.002)
                << nm;
        }
    }
    EXPECT_LT(at(pane_transmittance(optics, 0.1, 1), 1450), 1e-6);
}

}  // namespace dapple::spectrum
