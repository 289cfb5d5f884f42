// Documents out of enclosures: what was read comes back as it was written, what was changed comes back changed.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <numbers>

#include "samples.h"
#include "scene/write_parts.h"
#include "schema_validation.h"

namespace dapple::tests {
namespace {

using Json = nlohmann::json;
using scene::Vec3;

constexpr double written = 1e-9;  // documents keep lengths to 1e-9 cm and directions to 1e-9

bool equal(double a, double b) {
    return std::abs(a - b) <= written * std::max(1.0, std::abs(a));
}
bool equal(const Vec3& a, const Vec3& b) {
    return (a - b).cwiseAbs().maxCoeff() <= written;
}
bool equal(const scene::Box& a, const scene::Box& b) {
    return equal(a.min, b.min) && equal(a.max, b.max);
}

bool equal(const std::optional<double>& a, const std::optional<double>& b) {
    return a && b ? equal(*a, *b) : a.has_value() == b.has_value();
}
bool equal(const std::optional<scene::Outdoors>& a, const std::optional<scene::Outdoors>& b) {
    if (!a || !b) return a.has_value() == b.has_value();
    return equal(a->lat_deg, b->lat_deg) && equal(a->lon_deg, b->lon_deg) &&
           equal(a->bearing_deg, b->bearing_deg) && equal(a->elevation_m, b->elevation_m) &&
           equal(a->albedo, b->albedo) && a->time_zone == b->time_zone;
}

bool equal(const scene::Tube& a, const scene::Tube& b) {
    return equal(a.length, b.length) && equal(a.diameter, b.diameter) && equal(a.along, b.along) &&
           equal(a.aim, b.aim) && equal(a.forward_power, b.forward_power) && a.coil == b.coil;
}
bool equal(const scene::Spot& a, const scene::Spot& b) {
    return equal(a.diameter, b.diameter) && equal(a.beam, b.beam) && equal(a.aim, b.aim);
}
bool equal(const scene::Bar& a, const scene::Bar& b) {
    return equal(a.length, b.length) && a.count == b.count && equal(a.beam, b.beam) &&
           equal(a.along, b.along) && equal(a.aim, b.aim);
}
bool equal(const scene::BoxShape& a, const scene::BoxShape& b) {
    return equal(a.box, b.box) && equal(a.turn, b.turn);
}
bool equal(const scene::CylinderShape& a, const scene::CylinderShape& b) {
    return equal(a.from, b.from) && equal(a.to, b.to) && equal(a.diameter, b.diameter) &&
           equal(a.turn, b.turn);
}
bool equal(const scene::EllipsoidShape& a, const scene::EllipsoidShape& b) {
    return equal(a.centre, b.centre) && equal(a.radii, b.radii) && equal(a.turn, b.turn);
}
bool equal(const scene::MeshShape& a, const scene::MeshShape& b) {
    return a.triangles == b.triangles && a.vertices.size() == b.vertices.size() &&
           std::equal(a.vertices.begin(), a.vertices.end(), b.vertices.begin(),
                      [](const Vec3& p, const Vec3& q) { return equal(p, q); });
}
bool equal(const scene::Veil& /*a*/, const scene::Veil& /*b*/) {
    return true;
}
bool equal(const scene::Mesh& a, const scene::Mesh& b) {
    return equal(a.pitch, b.pitch) && equal(a.wire, b.wire);
}
bool equal(const scene::Pane& a, const scene::Pane& b) {
    return equal(a.thickness, b.thickness) && a.material.reflectance.isApprox(b.material.reflectance) &&
           a.material.optics->absorption_per_m.isApprox(b.material.optics->absorption_per_m);
}
template <class... Kinds>
bool equal(const std::variant<Kinds...>& a, const std::variant<Kinds...>& b) {
    return a.index() == b.index() &&
           std::visit(
               [&](const auto& kind) { return equal(kind, std::get<std::decay_t<decltype(kind)>>(b)); }, a);
}
bool equal(const scene::Lamp& a, const scene::Lamp& b) {
    return a.id == b.id && a.name == b.name && equal(a.centre, b.centre) && equal(a.shape, b.shape) &&
           a.spectrum.relative.isApprox(b.spectrum.relative) && a.output.size() == b.output.size() &&
           std::equal(a.output.begin(), a.output.end(), b.output.begin(),
                      [](const scene::Output& p, const scene::Output& q) {
                          return p.quantity == q.quantity && equal(p.value, q.value) &&
                                 equal(p.distance, q.distance);
                      }) &&
           equal(a.power_w, b.power_w) && equal(a.hours_on, b.hours_on) && a.installed == b.installed &&
           equal(a.age_factor, b.age_factor) && a.heat_kind == b.heat_kind &&
           equal(a.thermostat_c, b.thermostat_c);
}
bool equal(const scene::Screen& a, const scene::Screen& b) {
    return a.id == b.id && a.name == b.name && equal(a.box, b.box) && a.normal_axis == b.normal_axis &&
           equal(a.kind, b.kind) && a.transmittance == b.transmittance;
}
bool equal(const scene::Furniture& a, const scene::Furniture& b) {
    return a.id == b.id && a.name == b.name && equal(a.shape, b.shape) && a.perch == b.perch &&
           a.material.reflectance.isApprox(b.material.reflectance);
}
bool equal(const scene::Foliage& a, const scene::Foliage& b) {
    return a.id == b.id && a.name == b.name && equal(a.shape, b.shape) &&
           equal(a.leaf_area_density, b.leaf_area_density);
}
bool equal(const scene::Animal& a, const scene::Animal& b) {
    return a.species == b.species && a.count == b.count && a.climbs == b.climbs && a.zones == b.zones &&
           a.band.has_value() == b.band.has_value() &&
           equal(a.band ? a.band->first : 0, b.band ? b.band->first : 0) &&
           equal(a.band ? a.band->second : 0, b.band ? b.band->second : 0) && a.definition == b.definition &&
           a.back_height.has_value() == b.back_height.has_value() &&
           equal(a.back_height.value_or(0), b.back_height.value_or(0));
}
bool equal(const scene::Place& a, const scene::Place& b) {
    return a.id == b.id && a.name == b.name && equal(a.position, b.position) && a.role == b.role &&
           a.animal == b.animal && a.height.has_value() == b.height.has_value() &&
           equal(a.height.value_or(0), b.height.value_or(0));
}
template <class Thing>
bool equal(const std::vector<Thing>& a, const std::vector<Thing>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Thing& p, const Thing& q) { return equal(p, q); });
}
bool equal(const scene::Wall& a, const scene::Wall& b) {
    return a.has_value() == b.has_value() && (!a || a->reflectance.isApprox(b->reflectance));
}
bool equal(const std::array<scene::Wall, 6>& a, const std::array<scene::Wall, 6>& b) {
    return std::equal(a.begin(), a.end(), b.begin(),
                      [](const scene::Wall& p, const scene::Wall& q) { return equal(p, q); });
}
bool equal(const scene::Room& a, const scene::Room& b) {
    return equal(a.day_c, b.day_c) && equal(a.night_c, b.night_c) &&
           equal(a.air_changes_per_h, b.air_changes_per_h) &&
           std::equal(a.wall_thickness.begin(), a.wall_thickness.end(), b.wall_thickness.begin(),
                      [](const auto& p, const auto& q) { return equal(p, q); });
}
bool equal(const scene::Enclosure& a, const scene::Enclosure& b) {
    return a.id == b.id && a.name == b.name && equal(a.size, b.size) && equal(a.walls, b.walls) &&
           equal(a.animals, b.animals) && equal(a.lamps, b.lamps) && equal(a.screens, b.screens) &&
           equal(a.furniture, b.furniture) && equal(a.foliage, b.foliage) && equal(a.spots, b.spots) &&
           equal(a.outdoors, b.outdoors) && equal(a.room, b.room);
}

// ---- random enclosures, built as values, so that writing cannot lean on a document ----

double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 100001) / 100000.0;
}

Vec3 point_in(const Vec3& size) {
    return {between(0, size.x()), between(0, size.y()), between(0, size.z())};
}

Vec3 some_direction() {
    const Vec3 v(between(-1, 1), between(-1, 1), between(-1, 1));
    return v.norm() > 0.1 ? v.normalized() : Vec3::UnitX();
}

Vec3 some_turn() {
    return *rc::gen::arbitrary<bool>() ? Vec3::Zero().eval() : Vec3(2 * some_direction());
}

scene::Box box_in(const Vec3& size) {
    const Vec3 a = point_in(0.8 * size);
    return {a, a + Vec3::Constant(0.01) + point_in(size - a - Vec3::Constant(0.01))};
}

std::string some_name(const std::string& id) {
    return *rc::gen::element(id, std::string("Stone \"é\"\n"), std::string("/~"));
}

spectrum::Material some_material() {
    if (*rc::gen::arbitrary<bool>()) {
        return spectrum::materials()[*rc::gen::inRange<std::size_t>(0, spectrum::materials().size())];
    }
    return spectrum::gray("painted", between(0, 1));
}

std::variant<scene::Tube, scene::Spot, scene::Bar> some_lamp_shape() {
    const Vec3 along = some_direction();
    const Vec3 aim = along.unitOrthogonal();
    const double beam = between(0.1, 3);
    const double k = std::log(0.5) / std::log(std::cos(beam / 2));
    switch (*rc::gen::inRange(0, 4)) {
        case 0:
            return scene::Tube{0.02, 0.016, along, aim, *rc::gen::element(-1.0, 0.0, 2.5), false};
        case 1:
            return scene::Tube{0.02, 0.05, along, aim, -1, true};
        case 2:
            return scene::Spot{between(0, 0.2), k, beam, aim, {}};
        default:
            return scene::Bar{0.02, *rc::gen::inRange(1, 20), k, beam, along, aim, {}};
    }
}

scene::Lamp some_lamp(const std::string& id, const Vec3& size) {
    scene::Lamp lamp;
    lamp.id = id;
    lamp.name = some_name(id);
    lamp.centre = Vec3::Constant(0.02) + 0.9 * point_in(size - Vec3::Constant(0.05));
    lamp.shape = some_lamp_shape();
    lamp.spectrum =
        spectrum::lamp_spectra()[*rc::gen::inRange<std::size_t>(0, spectrum::lamp_spectra().size())];
    for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
        lamp.output.push_back({*rc::gen::element(spectrum::Quantity::uvi, spectrum::Quantity::lux,
                                                 spectrum::Quantity::irradiance),
                               between(0.1, 1e4), between(0.01, 1)});
    }
    lamp.power_w = between(0, 150);
    lamp.hours_on = between(0, 24);
    lamp.installed = *rc::gen::element(std::string(), std::string("2024-02-29"));
    lamp.age_factor = between(0.1, 1);
    if (*rc::gen::arbitrary<bool>()) lamp.heat_kind = *rc::gen::elementOf(scene::heat_kinds);
    if (*rc::gen::arbitrary<bool>()) lamp.thermostat_c = between(20, 60);
    return lamp;
}

scene::Screen some_screen(const std::string& id, const Vec3& size) {
    scene::Screen screen;
    screen.id = id;
    screen.name = some_name(id);
    screen.box = box_in(size);
    screen.normal_axis = *rc::gen::inRange(0, 3);
    screen.box.max[screen.normal_axis] = screen.box.min[screen.normal_axis];
    switch (*rc::gen::inRange(0, 3)) {
        case 0:
            screen.kind = scene::Mesh{0.002, between(0.0001, 0.0019)};
            break;
        case 1:
            screen.kind = scene::Pane{*spectrum::find_material("float_glass"), between(0.001, 0.01)};
            break;
        default:
            screen.transmittance = between(0, 1);
    }
    return screen;
}

std::variant<scene::BoxShape, scene::CylinderShape, scene::EllipsoidShape, scene::MeshShape> some_body(
    const Vec3& size) {
    switch (*rc::gen::inRange(0, 4)) {
        case 0:
            return scene::BoxShape{box_in(size), some_turn()};
        case 1: {
            const scene::Box box = box_in(size);
            return scene::CylinderShape{box.min, box.max, between(0.01, 0.1), some_turn()};
        }
        case 2:
            return scene::EllipsoidShape{point_in(size), Vec3::Constant(0.01) + point_in(size), some_turn()};
        default: {
            const scene::Box box = box_in(size);
            return scene::MeshShape{{box.min, box.max, {box.min.x(), box.max.y(), box.min.z()}}, {{0, 1, 2}}};
        }
    }
}

scene::Animal some_animal() {
    scene::Animal animal;
    if (*rc::gen::arbitrary<bool>()) {
        animal.species = "pogona_vitticeps";
    } else {
        animal.species = "our_own";
        animal.definition = R"({"habit":"basks","id":"our_own","zones":[3]})";
    }
    animal.count = *rc::gen::inRange(1, 9);
    if (*rc::gen::arbitrary<bool>()) animal.back_height = between(0.001, 0.5);
    if (*rc::gen::arbitrary<bool>()) animal.climbs = *rc::gen::arbitrary<bool>();
    animal.zones = *rc::gen::element(std::vector<int>{}, std::vector<int>{2}, std::vector<int>{3, 4});
    if (*rc::gen::arbitrary<bool>()) animal.band = std::pair(between(0, 1), between(1.1, 9));
    return animal;
}

scene::Place some_spot(const std::string& id, const Vec3& size) {
    scene::Place spot;
    spot.id = id;
    spot.name = some_name(id);
    spot.position = point_in(size);
    if (*rc::gen::arbitrary<bool>()) spot.height = between(0, 0.3);
    spot.role = *rc::gen::element(scene::Role::bask, scene::Role::retreat, scene::Role::other);
    return spot;
}

scene::Outdoors some_outdoors() {
    scene::Outdoors place{between(-90, 90), between(-180, 180), between(0, 360), {}, {}, ""};
    if (*rc::gen::arbitrary<bool>()) place.elevation_m = between(-400, 5000);
    if (*rc::gen::arbitrary<bool>()) place.albedo = between(0, 1);
    if (*rc::gen::arbitrary<bool>()) place.time_zone = "Pacific/Auckland";
    return place;
}

scene::Room some_room() {
    scene::Room room;
    if (*rc::gen::arbitrary<bool>()) room.day_c = between(-20, 40);
    if (*rc::gen::arbitrary<bool>()) room.night_c = between(-20, 40);
    if (*rc::gen::arbitrary<bool>()) room.air_changes_per_h = between(0, 50);
    for (auto& thickness : room.wall_thickness) {
        if (*rc::gen::arbitrary<bool>()) thickness = between(0.001, 0.1);
    }
    return room;
}

scene::Enclosure some_enclosure() {
    scene::Enclosure e;
    e.id = "random";
    e.name = some_name("random");
    e.size = {between(0.2, 3), between(0.2, 2), between(0.2, 2)};
    if (*rc::gen::arbitrary<bool>()) e.outdoors = some_outdoors();
    e.room = some_room();
    for (auto& wall : e.walls) {
        if (*rc::gen::inRange(0, 4) > 0) wall = some_material();
    }
    const auto each = [](const char* what, auto make) {
        const int n = *rc::gen::inRange(0, 4);
        for (int i = 0; i < n; ++i) make(what + std::to_string(i));
    };
    each("lamp", [&](const std::string& id) { e.lamps.push_back(some_lamp(id, e.size)); });
    each("screen", [&](const std::string& id) { e.screens.push_back(some_screen(id, e.size)); });
    each("thing", [&](const std::string& id) {
        e.furniture.push_back(
            {id, some_name(id), some_body(e.size), some_material(), *rc::gen::arbitrary<bool>()});
    });
    each("plant", [&](const std::string& id) {
        scene::Foliage plant{id, some_name(id), scene::BoxShape{box_in(e.size), some_turn()}, between(0, 9)};
        if (*rc::gen::arbitrary<bool>()) {
            plant.shape = scene::EllipsoidShape{point_in(e.size), Vec3::Constant(0.1), some_turn()};
        }
        e.foliage.push_back(std::move(plant));
    });
    each("", [&](const std::string&) { e.animals.push_back(some_animal()); });
    each("spot", [&](const std::string& id) { e.spots.push_back(some_spot(id, e.size)); });
    if (!e.spots.empty() && !e.animals.empty()) e.spots.front().animal = e.animals.back().species;
    return e;
}

RC_GTEST_PROP(AnyEnclosure, is_the_same_after_writing_and_reading, ()) {
    const auto enclosure = some_enclosure();
    const auto document = to_json(enclosure);
    RC_ASSERT(faults(document) == "");
    RC_ASSERT(schema_accepts(document));
    RC_ASSERT(equal(good(document), enclosure));
    RC_ASSERT(equal(good(to_text(enclosure)), enclosure));
}

RC_GTEST_PROP(AnyEnclosure, once_read_is_written_without_a_change, ()) {
    const auto document = to_json(some_enclosure());
    RC_ASSERT(to_json(good(document)) == document);
}

// Any enclosure may become any other one, as long as it keeps its document: everything must then be written.
RC_GTEST_PROP(AnyEnclosure, that_was_changed_all_over_is_written_as_it_is_now, ()) {
    auto changed = some_enclosure();
    changed.source = to_json(some_enclosure()).dump();
    for (auto& piece : changed.furniture) {  // meshes of a document may be moved only: see the test below
        if (std::holds_alternative<scene::MeshShape>(piece.shape)) piece.id += "-new";
    }
    const auto document = to_json(changed);
    RC_ASSERT(faults(document) == "");
    const auto again = good(document);
    RC_ASSERT(again.furniture.size() == changed.furniture.size());  // their order follows the old document
    const auto by_id = [](const auto& a, const auto& b) { return a.id < b.id; };
    auto sorted = again;
    std::sort(sorted.furniture.begin(), sorted.furniture.end(), by_id);
    std::sort(changed.furniture.begin(), changed.furniture.end(), by_id);
    RC_ASSERT(equal(sorted.walls, changed.walls));
    RC_ASSERT(equal(sorted.animals, changed.animals));
    RC_ASSERT(equal(sorted.lamps, changed.lamps));
    RC_ASSERT(equal(sorted.screens, changed.screens));
    RC_ASSERT(equal(sorted.furniture, changed.furniture));
    RC_ASSERT(equal(sorted.foliage, changed.foliage));
    RC_ASSERT(equal(sorted.spots, changed.spots));
    RC_ASSERT(equal(sorted, changed));
}

TEST(ADocumentReadAndWritten, stays_as_the_person_wrote_it) {
    Json document = contract_example();
    document["lamps"][0]["aim"] = {0, 0.5, -7};  // neither of length one nor ...
    document["lamps"][0]["along"] = {2, 0, 0};
    document["lamps"][1]["output"] = {{{"lux", 21000.5}, {"at_cm", 30.25}}};
    document["furniture"][0]["turn_deg"] = {0, 0, 370};
    document["walls"]["left"] = {{"reflectance", 0.42}};
    document["spots"][0]["role"] = "bask";
    EXPECT_EQ(to_json(good(document)), document);
}

TEST(ADocumentWrittenAsText, keeps_the_persons_order_of_fields) {
    const std::string text = text_of("tests/scene/contract_example.json");
    const std::string again = to_text(good(text));
    EXPECT_EQ(scene::Json::parse(again).dump(), scene::Json::parse(text).dump());
    EXPECT_NE(again.find("\"size_cm\": [120, 60, 60]"), std::string::npos);  // numbers on one line
}

TEST(ALampThatWasMoved, is_written_where_it_hangs_now_and_nothing_else_changes) {
    Json document = contract_example();
    auto enclosure = good(document);
    enclosure.lamps[0].centre.z() += 0.06 - 0.1;
    document["lamps"][0]["centre_cm"] = {60, 30, 52};
    EXPECT_EQ(to_json(enclosure), document);
}

TEST(FurnitureThatWasRaised, is_written_at_its_new_height) {
    Json document = contract_example();
    auto enclosure = good(document);
    std::get<scene::BoxShape>(enclosure.furniture[0].shape).box.max.z() += 0.06;
    enclosure.spots[0].position.z() += 0.06;
    document["furniture"][0]["max_cm"] = {75, 40, 24};
    document["spots"][0]["position_cm"] = {60, 30, 24};
    EXPECT_EQ(to_json(enclosure), document);
}

TEST(AMeshThatWasMoved, is_written_at_its_new_position) {
    Json document = contract_example();
    document["furniture"][0] = {{"id", "rock"},
                                {"shape", "mesh"},
                                {"obj", "v 0 0 0\nv 9 0 0\nv 0 9 0\nf 1 2 3\n"},
                                {"position_cm", {20, 20, 5}},
                                {"turn_deg", {0, 0, 30}}};
    auto enclosure = good(document);
    EXPECT_EQ(to_json(enclosure), document);
    for (auto& v : std::get<scene::MeshShape>(enclosure.furniture[0].shape).vertices) v += Vec3(0.1, 0, 0.05);
    document["furniture"][0]["position_cm"] = {30, 20, 10};
    EXPECT_EQ(to_json(enclosure), document);
    EXPECT_TRUE(equal(good(document), enclosure));
}

TEST(AScreenTakenOut, is_no_longer_in_the_document) {
    auto enclosure = good(contract_example());
    enclosure.screens.erase(enclosure.screens.begin());
    const auto document = to_json(enclosure);
    ASSERT_EQ(document["screens"].size(), 2U);
    EXPECT_EQ(document["screens"][0]["id"], "guard");
}

TEST(ALampOfAnotherKind, takes_the_place_of_the_old_one_without_its_fields) {
    auto enclosure = good(contract_example());
    enclosure.lamps[0].shape = scene::Spot{0.1, 1, 120 * std::numbers::pi / 180, -Vec3::UnitZ(), {}};
    const auto lamp = to_json(enclosure)["lamps"][0];
    EXPECT_EQ(lamp["kind"], "spot");
    EXPECT_FALSE(lamp.contains("length_cm"));
    EXPECT_FALSE(lamp.contains("spread"));
    EXPECT_TRUE(equal(good(to_json(enclosure)), enclosure));
}

TEST(AnInlineMaterial, swapped_for_one_of_the_library_is_written_by_name) {
    Json document = contract_example();
    document["walls"]["left"] = {{"reflectance", 0.42}};
    auto enclosure = good(document);
    enclosure.walls[static_cast<std::size_t>(scene::Face::left)] = *spectrum::find_material("wood");
    EXPECT_EQ(to_json(enclosure)["walls"]["left"], "wood");
}

}  // namespace
}  // namespace dapple::tests
