// What a document means: units, defaults, directions.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <numbers>

#include "samples.h"

namespace dapple::tests {
namespace {

using scene::Vec3;

constexpr double exact = 1e-12;  // one multiplication away from the document's number
constexpr double deg = std::numbers::pi / 180;

nlohmann::json smallest() {
    return {{"format", "dapple/enclosure@1"}, {"id", "box"}, {"size_cm", {100, 50, 40}}};
}

template <class Shape>
const Shape& lamp_of(const scene::Enclosure& enclosure) {
    return std::get<Shape>(enclosure.lamps.at(0).shape);
}

TEST(TheContractsExample, is_read_with_all_its_parts) {
    const auto enclosure = good(contract_example());
    EXPECT_EQ(enclosure.id, "north-3");
    EXPECT_EQ(enclosure.lamps.size(), 2U);
    EXPECT_EQ(enclosure.screens.size(), 3U);
    EXPECT_EQ(enclosure.furniture.size(), 3U);
    EXPECT_EQ(enclosure.foliage.size(), 1U);
    EXPECT_EQ(enclosure.spots.size(), 2U);
    EXPECT_EQ(enclosure.animals.at(0).species, "crotaphytus_collaris");
    EXPECT_EQ(enclosure.animals.at(0).count, 2);
    EXPECT_TRUE(enclosure.animals.at(0).climbs.value());
}

TEST(TheContractsExample, is_in_metres_and_radians_inside) {
    const auto enclosure = good(contract_example());
    EXPECT_TRUE(enclosure.size.isApprox(Vec3(1.2, 0.6, 0.6), exact));
    const auto& tube = lamp_of<scene::Tube>(enclosure);
    EXPECT_NEAR(tube.length, 0.85, exact);
    EXPECT_NEAR(tube.diameter, 0.016, exact);
    EXPECT_EQ(tube.forward_power, 2);
    EXPECT_NEAR(enclosure.lamps[0].output.at(0).distance, 0.3, exact);
    EXPECT_EQ(enclosure.lamps[0].installed, "2026-03-01");
    const auto& spot = std::get<scene::Spot>(enclosure.lamps[1].shape);
    EXPECT_NEAR(spot.beam, 40 * deg, exact);
    EXPECT_NEAR(std::pow(std::cos(20 * deg), spot.k), 0.5, exact);  // half power at half the beam angle
    const auto& mesh = std::get<scene::Mesh>(enclosure.screens[0].kind);
    EXPECT_NEAR(mesh.pitch, 0.002, exact);
    EXPECT_NEAR(mesh.wire, 0.0004, exact);
    EXPECT_EQ(enclosure.screens[0].normal_axis, 2);
    EXPECT_EQ(enclosure.screens[1].transmittance.value(), 0.8);
    EXPECT_NEAR(std::get<scene::Pane>(enclosure.screens[2].kind).thickness, 0.004, exact);
    EXPECT_NEAR(enclosure.animals[0].back_height.value(), 0.04, exact);
    EXPECT_TRUE(enclosure.spots[0].position.isApprox(Vec3(0.6, 0.3, 0.18), exact));
    EXPECT_EQ(enclosure.spots[1].role, scene::Role::retreat);
}

TEST(AnEnclosureThatSaysNothing, is_black_below_and_open_above) {
    const auto enclosure = good(smallest());
    for (const auto face : scene::faces) {
        const auto& wall = enclosure.walls[static_cast<std::size_t>(face)];
        EXPECT_EQ(wall.has_value(), face != scene::Face::top) << scene::name(face);
        EXPECT_EQ(wall ? wall->id : "black", "black");
    }
    EXPECT_EQ(enclosure.name, "box");
    EXPECT_TRUE(enclosure.animals.empty());
}

TEST(ALampThatSaysLittle, takes_the_stated_defaults) {
    auto document = smallest();
    document["lamps"] = {
        {{"id", "t"}, {"kind", "tube"}, {"length_cm", 60}, {"centre_cm", {50, 25, 35}}},
        {{"id", "c"}, {"kind", "coil"}, {"length_cm", 12}, {"centre_cm", {50, 25, 35}}},
        {{"id", "s"}, {"kind", "spot"}, {"centre_cm", {50, 25, 35}}},
        {{"id", "b"}, {"kind", "bar"}, {"length_cm", 40}, {"count", 8}, {"centre_cm", {50, 25, 35}}}};
    const auto lamps = good(document).lamps;
    const auto& tube = std::get<scene::Tube>(lamps[0].shape);
    EXPECT_EQ(lamps[0].name, "t");
    EXPECT_NEAR(tube.diameter, 0.016, exact);
    EXPECT_LT(tube.forward_power, 0);  // all round
    EXPECT_EQ(tube.along, Vec3::UnitX());
    EXPECT_EQ(tube.aim, -Vec3::UnitZ());
    EXPECT_EQ(lamps[0].spectrum.id, "fluorescent_uvb_mid");
    EXPECT_EQ(lamps[0].hours_on, 12);
    EXPECT_EQ(lamps[0].age_factor, 1);
    EXPECT_TRUE(lamps[0].output.empty());
    EXPECT_TRUE(std::get<scene::Tube>(lamps[1].shape).coil);
    EXPECT_NEAR(std::get<scene::Tube>(lamps[1].shape).diameter, 0.05, exact);
    const auto& spot = std::get<scene::Spot>(lamps[2].shape);
    EXPECT_EQ(spot.diameter, 0);
    EXPECT_NEAR(spot.k, 1, 1e-9);  // 120 degrees at half power: a Lambertian source
    EXPECT_EQ(lamps[2].spectrum.id, "halogen");
    EXPECT_EQ(lamps[3].spectrum.id, "led_white");
    EXPECT_EQ(std::get<scene::Bar>(lamps[3].shape).count, 8);
}

TEST(ATubesAim, is_taken_at_right_angles_to_its_length) {
    auto document = smallest();
    document["lamps"] = {{{"id", "t"},
                          {"kind", "tube"},
                          {"length_cm", 30},
                          {"centre_cm", {50, 25, 30}},
                          {"along", {0, 3, 0}},
                          {"aim", {0, 1, -1}}}};
    const auto enclosure = good(document);
    const auto& tube = lamp_of<scene::Tube>(enclosure);
    EXPECT_TRUE(tube.along.isApprox(Vec3::UnitY(), exact));
    EXPECT_TRUE(tube.aim.isApprox(-Vec3::UnitZ(), exact));
}

TEST(Turning, goes_about_x_then_y_then_z) {
    // A quarter about x lays z onto -y; then a quarter about z brings -y onto x.
    EXPECT_TRUE((scene::turn({90 * deg, 0, 90 * deg}) * Vec3::UnitZ()).isApprox(Vec3::UnitX(), exact));
    // The other way round z would stay until the quarter about x: it would end at -y.
    EXPECT_TRUE((scene::turn({0, 90 * deg, 0}) * Vec3::UnitZ()).isApprox(Vec3::UnitX(), exact));
    EXPECT_TRUE((scene::turn({0, 0, 90 * deg}) * Vec3::UnitX()).isApprox(Vec3::UnitY(), exact));
}

TEST(ALampAboveAnOpenTop, may_hang_outside_the_box_and_overhang_it) {
    auto document = smallest();
    document["lamps"] = {{{"id", "t"}, {"kind", "tube"}, {"length_cm", 150}, {"centre_cm", {50, 25, 55}}}};
    EXPECT_EQ(faults(document), "");
    document["screens"] = {
        {{"id", "lid"}, {"min_cm", {0, 0, 40}}, {"max_cm", {100, 50, 40}}, {"transmittance", 0.7}}};
    EXPECT_EQ(faults(document), "");
}

TEST(SeveralOutputs, are_kept_in_their_order) {
    auto document = smallest();
    document["lamps"] = {{{"id", "t"},
                          {"kind", "tube"},
                          {"length_cm", 60},
                          {"centre_cm", {50, 25, 35}},
                          {"output", {{{"uvi", 8}, {"at_cm", 20}}, {{"lux", 900}, {"at_cm", 30}}}}}};
    const auto output = good(document).lamps[0].output;
    ASSERT_EQ(output.size(), 2U);
    EXPECT_EQ(output[0].quantity, spectrum::Quantity::uvi);
    EXPECT_EQ(output[1].quantity, spectrum::Quantity::lux);
    EXPECT_NEAR(output[1].distance, 0.3, exact);
}

TEST(AnInlineSpecies, is_carried_as_it_stands) {
    auto document = smallest();
    document["animals"] = {
        {{"species", {{"id", "our_skink"}, {"zones", {2}}}}, {"zone", {2, 3}}, {"band", {1, 4}}}};
    const auto animal = good(document).animals.at(0);
    EXPECT_EQ(animal.species, "our_skink");
    EXPECT_EQ(nlohmann::json::parse(animal.definition), document["animals"][0]["species"]);
    EXPECT_EQ(animal.zones, (std::vector<int>{2, 3}));
    EXPECT_EQ(animal.band, std::pair(1.0, 4.0));
}

TEST(AnInlineMaterial, is_gray_or_a_curve) {
    auto document = smallest();
    document["walls"] = {{"floor", {{"reflectance", 0.3}}},
                         {"back", {{"wavelength_nm", {300, 500}}, {"reflectance", {0.1, 0.5}}}}};
    const auto walls = good(document).walls;
    EXPECT_TRUE((walls[0]->reflectance == 0.3).all());
    const auto& back = walls[static_cast<std::size_t>(scene::Face::back)]->reflectance;
    EXPECT_NEAR(back[400 - spectrum::first_nm], 0.3, exact);  // linear between the rows
    EXPECT_NEAR(back[0], 0.1, exact);                         // and level beyond them
}

TEST(AnInlinePane, has_its_own_optics) {
    auto document = smallest();
    document["screens"] = {
        {{"id", "p"},
         {"min_cm", {0, 0, 20}},
         {"max_cm", {50, 50, 20}},
         {"pane",
          {{"thickness_mm", 3},
           {"material",
            {{"refractive_index", 1.5}, {"wavelength_nm", {300, 400}}, {"absorption_per_m", {1000, 10}}}}}}}};
    const auto pane = std::get<scene::Pane>(good(document).screens.at(0).kind);
    EXPECT_TRUE((pane.material.optics->index == 1.5).all());
    EXPECT_NEAR(pane.material.optics->absorption_per_m[350 - spectrum::first_nm], 505, 1e-9);
}

TEST(AnInlineSpectrum, is_a_table_or_csv_text) {
    auto document = smallest();
    document["lamps"] = {{{"id", "a"},
                          {"kind", "spot"},
                          {"centre_cm", {50, 25, 35}},
                          {"spectrum", {{"wavelength_nm", {300, 310, 320}}, {"relative", {0, 1, 0}}}}},
                         {{"id", "b"},
                          {"kind", "spot"},
                          {"centre_cm", {50, 25, 35}},
                          {"spectrum", {{"csv", "nm,relative\n300,0\n310,1\n320,0\n"}}}}};
    const auto lamps = good(document).lamps;
    EXPECT_NEAR(lamps[0].spectrum.relative[305 - spectrum::first_nm], 0.5, exact);
    EXPECT_TRUE(lamps[0].spectrum.relative.isApprox(lamps[1].spectrum.relative, exact));
}

TEST(ADocumentOutdoors, carries_its_place_through) {
    auto document = smallest();
    document["outdoors"] = {{"lat", 47.5}, {"lon", -3}, {"bearing", 90}};
    document["notes"] = "Stands on the lawn from May.";
    const auto enclosure = good(document);
    EXPECT_EQ(to_json(enclosure)["outdoors"], document["outdoors"]);
    EXPECT_EQ(to_json(enclosure)["notes"], document["notes"]);
    ASSERT_TRUE(enclosure.outdoors);
    EXPECT_EQ(enclosure.outdoors->bearing_deg, 90);  // as older documents write it
    EXPECT_FALSE(enclosure.outdoors->elevation_m);
}

TEST(ADocumentOutdoors, says_where_it_stands_and_what_the_ground_reflects) {
    auto document = smallest();
    EXPECT_FALSE(good(document).outdoors);
    document["outdoors"] = {{"lat", 47.5},        {"lon", -3},     {"bearing_deg", 135},
                            {"elevation_m", 640}, {"albedo", 0.8}, {"time_zone", "Europe/Paris"}};
    const auto place = good(document).outdoors;
    ASSERT_TRUE(place);
    EXPECT_EQ(place->lat_deg, 47.5);
    EXPECT_EQ(place->lon_deg, -3);
    EXPECT_EQ(place->bearing_deg, 135);
    EXPECT_EQ(place->elevation_m, 640);
    EXPECT_EQ(place->albedo, 0.8);
    EXPECT_EQ(place->time_zone, "Europe/Paris");
}

TEST(ADocumentOutdoors, is_written_back_where_it_was_moved) {
    auto document = smallest();
    document["outdoors"] = {{"lat", 47.5}, {"lon", -3}, {"bearing", 90}};
    auto enclosure = good(document);
    enclosure.outdoors->bearing_deg = 180;
    enclosure.outdoors->albedo = 0.15;
    EXPECT_EQ(to_json(enclosure)["outdoors"],
              (nlohmann::json{{"lat", 47.5}, {"lon", -3}, {"bearing", 180}, {"albedo", 0.15}}));
    enclosure.outdoors.reset();
    EXPECT_FALSE(to_json(enclosure).contains("outdoors"));
    enclosure.outdoors = scene::Outdoors{10, 20, 30, std::nullopt, std::nullopt, "Africa/Lagos"};
    EXPECT_EQ(to_json(enclosure)["outdoors"],
              (nlohmann::json{{"lat", 10}, {"lon", 20}, {"bearing", 30}, {"time_zone", "Africa/Lagos"}}));
}

}  // namespace
}  // namespace dapple::tests
