// Files that documents bring along: photometric tables, meshes, spectra.
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <numbers>

#include "samples.h"
#include "scene/mesh_file.h"
#include "scene/photometric.h"

namespace dapple::tests {
namespace {

using scene::Vec3;

constexpr double deg = std::numbers::pi / 180;
constexpr double exact = 1e-12;

// Two planes of a quadrant; intensity 100 along the aim, falling faster across (90) than along (0).
const std::string quadrant =
    "IESNA:LM-63-2002\n[TEST] none\n[MANUFAC] none\nTILT=NONE\n"
    "1 1000 2 3 2 1 2 0.1 0.1 0\n1 1 50\n"
    "0 45 90\n0 90\n"
    "50 40 0\n50, 20\n0\n";

scene::Photometry table(const std::string& text) {
    auto parsed = scene::parse_ies(text, "lamp.ies");
    if (!parsed) throw std::runtime_error(to_text(parsed.error()));
    return *std::move(parsed);
}

std::string refusal(const std::string& text) {
    const auto parsed = scene::parse_ies(text, "lamp.ies");
    return parsed ? "" : to_text(parsed.error());
}

TEST(APhotometricFile, is_one_along_the_aim_and_linear_between_its_angles) {
    const auto lamp = table(quadrant);
    EXPECT_NEAR(lamp.at(0, 0), 1, exact);
    EXPECT_NEAR(lamp.at(45 * deg, 0), 0.8, exact);
    EXPECT_NEAR(lamp.at(45 * deg, 90 * deg), 0.4, exact);
    EXPECT_NEAR(lamp.at(45 * deg, 45 * deg), 0.6, exact);
    EXPECT_NEAR(lamp.at(22.5 * deg, 0), 0.9, exact);
    EXPECT_EQ(lamp.at(100 * deg, 0), 0);  // nothing is said about its back, so nothing shines there
}

TEST(AQuadrant, is_completed_to_all_four) {
    const auto lamp = table(quadrant);
    for (const double phi : {30.0, 150.0, 210.0, 330.0, -30.0, 390.0}) {
        EXPECT_NEAR(lamp.at(45 * deg, phi * deg), 0.8 - 0.4 * 30 / 90, 1e-9) << phi;
    }
}

TEST(AHalf, is_completed_to_the_whole) {
    const std::string half =
        "TILT=NONE\n1 1000 1 2 3 1 2 0 0 0 1 1 50\n0 90\n0 90 180\n10 8\n10 4\n10 2\n";  // 1986: no header line
    const auto lamp = table(half);
    EXPECT_NEAR(lamp.at(90 * deg, 270 * deg), 0.4, exact);
    EXPECT_NEAR(lamp.at(90 * deg, 225 * deg), 0.3, exact);
}

TEST(AHalfAboutTheOtherPlane, is_completed_to_the_whole) {
    const std::string half = "TILT=NONE\n1 1000 1 2 3 1 2 0 0 0 1 1 50\n0 90\n90 180 270\n10 8\n10 4\n10 2\n";
    const auto lamp = table(half);
    EXPECT_NEAR(lamp.at(90 * deg, 180 * deg), 0.4, exact);
    EXPECT_NEAR(lamp.at(90 * deg, 0), 0.4, exact);  // 0 mirrors 180 about the plane through 90 and 270
    EXPECT_NEAR(lamp.at(90 * deg, 45 * deg), 0.6, exact);
}

TEST(OnePlane, is_the_same_all_round) {
    const auto lamp = table("IESNA91\nTILT=NONE\n1 -1 1 3 1 1 1 0 0 0 1 1 75\n0 20 60\n0\n2000 1000 0\n");
    EXPECT_NEAR(lamp.at(20 * deg, 1), 0.5, exact);
    EXPECT_NEAR(lamp.at(20 * deg, 4), 0.5, exact);
}

TEST(APhotometricFile, that_is_not_understood_says_why) {
    EXPECT_EQ(refusal("hello"),
              "lamp.ies at line 1: found no TILT line; allowed: an IES LM-63 photometric file\n");
    EXPECT_EQ(refusal("IESNA91\nTILT=INCLUDE\n"),
              "lamp.ies at line 2: found TILT=INCLUDE; allowed: TILT=NONE: a lamp whose output does not "
              "change with "
              "its tilt\n");
    EXPECT_EQ(
        refusal("TILT=NONE\n1 1 1 2 1 2 1 0 0 0 1 1 9\n0 90\n0\n1 1\n"),
        "lamp.ies at line 2: found photometric type 2; allowed: 1 (type C: angles about the downward axis); "
        "types A and B are for floodlights and motor cars\n");
    EXPECT_EQ(refusal("TILT=NONE\n1 1 1 2 1 1 1 0 0 0 1 1 9\n0 90\n0\n1 x\n"),
              "lamp.ies at line 5: found x; allowed: a number: intensity\n");
    EXPECT_EQ(refusal("TILT=NONE\n1 1 1 2 1 1 1 0 0 0 1 1 9\n0 90\n0\n1\n"),
              "lamp.ies at line 6: found the end of the file; allowed: intensity\n");
    EXPECT_EQ(
        refusal("TILT=NONE\n1 1 1 2 1 1 1 0 0 0 1 1 9\n0 90\n0\n0 5\n"),
        "lamp.ies at line 5: found intensity 0 at vertical angle 0; allowed: above 0: the lamp's strength is "
        "read along its aim\n");
    EXPECT_EQ(
        refusal("TILT=NONE\n1 1 1 2 2 1 1 0 0 0 1 1 9\n0 90\n0 45\n5 5 5 5\n"),
        "lamp.ies at line 4: found horizontal angles from 0 to 45; allowed: 0 alone, 0 to 90, 0 to 180, "
        "0 to 360, or 90 to 270\n");
}

// ---- meshes ----

const std::string corner = "# a corner\nv 0 0 0\nv 4 0 0\nv 4 2 0\nv 0 2 0\nf 1 2 3 4\n";

TEST(AnObjMesh, is_cut_into_triangles) {
    const auto mesh = scene::parse_obj(corner, "rock.obj");
    ASSERT_TRUE(mesh);
    EXPECT_EQ(mesh->vertices.size(), 4U);
    ASSERT_EQ(mesh->triangles.size(), 2U);
    double area = 0;
    for (const auto& t : mesh->triangles) {
        const Vec3 a = mesh->vertices[static_cast<std::size_t>(t[0])];
        const Vec3 b = mesh->vertices[static_cast<std::size_t>(t[1])];
        const Vec3 c = mesh->vertices[static_cast<std::size_t>(t[2])];
        const Vec3 normal = (b - a).cross(c - a);
        EXPECT_GT(normal.z(), 0);  // the winding is kept: outward stays outward
        area += 0.5 * normal.norm();
    }
    EXPECT_NEAR(area, 8, exact);
}

nlohmann::json with_rock(const nlohmann::json& rock) {
    nlohmann::json document = {{"format", "dapple/enclosure@1"}, {"id", "box"}, {"size_cm", {100, 50, 40}}};
    document["furniture"] = {rock};
    return document;
}

TEST(AMeshOfADocument, is_scaled_turned_about_its_middle_and_set_down) {
    const auto enclosure = good(with_rock({{"id", "rock"},
                                           {"shape", "mesh"},
                                           {"obj", corner},
                                           {"scale", 10},
                                           {"turn_deg", {0, 0, 90}},
                                           {"position_cm", {20, 5, 1}}}));
    const auto& mesh = std::get<scene::MeshShape>(enclosure.furniture.at(0).shape);
    // In the file's units the middle is (2, 1); turned by 90 degrees corner (0, 0) comes to (3, -1); times 10 cm,
    // plus the position, in metres.
    EXPECT_TRUE(mesh.vertices[0].isApprox(Vec3(0.50, -0.05, 0.01), exact)) << mesh.vertices[0].transpose();
    EXPECT_EQ(enclosure.furniture[0].material.id, "black");
}

TEST(AMeshOfADocument, comes_from_a_file_only_through_the_reader) {
    const auto document = with_rock({{"id", "rock"}, {"shape", "mesh"}, {"file", "rock.obj"}});
    EXPECT_EQ(
        faults(document),
        "document at /furniture/0/file: found the file \"rock.obj\"; allowed: the text itself: no files are "
        "read for this document\n");
    scene::ReadOptions options;
    options.read_file = [](const std::string& name) -> std::optional<std::string> {
        if (name == "rock.obj") return corner;
        return std::nullopt;
    };
    EXPECT_EQ(faults(document, options), "");
    const auto missing = with_rock({{"id", "rock"}, {"shape", "mesh"}, {"file", "stone.obj"}});
    EXPECT_EQ(
        faults(missing, options),
        "document at /furniture/0/file: found the file \"stone.obj\", which cannot be read; allowed: a file "
        "beside the document\n");
    const auto unknown = with_rock({{"id", "rock"}, {"shape", "mesh"}, {"file", "rock.stl"}});
    options.read_file = [](const std::string&) { return corner; };
    EXPECT_EQ(
        faults(unknown, options),
        "document at /furniture/0/file: found in rock.stl: \"rock.stl\"; allowed: a name that ends in .obj, "
        ".gltf or .glb\n");
}

std::string base64(const std::string& bytes) {
    const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned int group = 0;
        for (std::size_t j = 0; j < 3; ++j) {
            group = group << 8U | (i + j < bytes.size() ? static_cast<unsigned char>(bytes[i + j]) : 0U);
        }
        for (std::size_t j = 0; j < 4; ++j)
            text += i + j > bytes.size() ? '=' : digits[group >> (18 - 6 * j) & 63U];
    }
    return text;
}

// One triangle (0,0,0) (2,0,0) (0,3,0) in the file's axes, its node moved up by 1 and doubled.
nlohmann::json gltf_triangle() {
    const std::array<float, 9> positions = {0, 0, 0, 2, 0, 0, 0, 3, 0};
    const std::array<std::uint16_t, 3> indices = {0, 1, 2};
    std::string bytes(sizeof positions + sizeof indices, '\0');
    std::memcpy(bytes.data(), positions.data(), sizeof positions);
    std::memcpy(bytes.data() + sizeof positions, indices.data(), sizeof indices);
    return {
        {"asset", {{"version", "2.0"}}},
        {"scene", 0},
        {"scenes", {{{"nodes", {0}}}}},
        {"nodes", {{{"mesh", 0}, {"translation", {0, 1, 0}}, {"scale", {2, 2, 2}}}}},
        {"meshes", {{{"primitives", {{{"attributes", {{"POSITION", 0}}}, {"indices", 1}}}}}}},
        {"buffers",
         {{{"byteLength", bytes.size()}, {"uri", "data:application/octet-stream;base64," + base64(bytes)}}}},
        {"bufferViews",
         {{{"buffer", 0}, {"byteOffset", 0}, {"byteLength", 36}},
          {{"buffer", 0}, {"byteOffset", 36}, {"byteLength", 6}}}},
        {"accessors",
         {{{"bufferView", 0}, {"componentType", 5126}, {"count", 3}, {"type", "VEC3"}},
          {{"bufferView", 1}, {"componentType", 5123}, {"count", 3}, {"type", "SCALAR"}}}}};
}

TEST(AGltfMesh, is_placed_by_its_nodes_and_stood_up_with_z_up) {
    const auto mesh = scene::parse_gltf(gltf_triangle().dump(), "rock.gltf");
    ASSERT_TRUE(mesh) << to_text(mesh.error());
    ASSERT_EQ(mesh->triangles.size(), 1U);
    // The file's y (up) is our z: the third corner, at y = 1 + 2 x 3, stands 7 high.
    EXPECT_TRUE(mesh->vertices[0].isApprox(Vec3(0, 0, 1), 1e-6));
    EXPECT_TRUE(mesh->vertices[1].isApprox(Vec3(4, 0, 1), 1e-6));
    EXPECT_TRUE(mesh->vertices[2].isApprox(Vec3(0, 0, 7), 1e-6));
}

TEST(AGltfMesh, that_points_outside_its_buffer_is_refused) {
    auto beyond = gltf_triangle();
    beyond["accessors"][0]["count"] = 300;
    EXPECT_FALSE(scene::parse_gltf(beyond.dump(), "rock.gltf"));
    auto index = gltf_triangle();
    index["accessors"][0]["count"] = 2;
    const auto mesh = scene::parse_gltf(index.dump(), "rock.gltf");
    ASSERT_FALSE(mesh);
    EXPECT_EQ(to_text(mesh.error()),
              "rock.gltf: found a glTF triangle with vertex 2; allowed: vertices 0 to 1\n");
}

TEST(AGltfMesh, whose_nodes_go_round_in_a_ring_is_refused) {
    auto ring = gltf_triangle();
    ring["nodes"][0]["children"] = {0};
    EXPECT_FALSE(scene::parse_gltf(ring.dump(), "rock.gltf"));
}

TEST(AGltfMesh, in_binary_is_the_same) {
    auto json = gltf_triangle();
    std::string bytes = "";
    {
        const std::array<float, 9> positions = {0, 0, 0, 2, 0, 0, 0, 3, 0};
        const std::array<std::uint16_t, 4> indices = {0, 1, 2, 0};  // padded to four bytes
        bytes.resize(sizeof positions + sizeof indices);
        std::memcpy(bytes.data(), positions.data(), sizeof positions);
        std::memcpy(bytes.data() + sizeof positions, indices.data(), sizeof indices);
    }
    json["buffers"] = {{{"byteLength", bytes.size()}}};
    std::string text = json.dump();
    while (text.size() % 4 != 0) text += ' ';
    const auto word = [](std::size_t value) {
        const auto number = static_cast<std::uint32_t>(value);
        std::string raw(4, '\0');
        std::memcpy(raw.data(), &number, 4);
        return raw;
    };
    const std::string glb = "glTF" + word(2) + word(12 + 8 + text.size() + 8 + bytes.size()) +
                            word(text.size()) + "JSON" + text + word(bytes.size()) + std::string("BIN\0", 4) +
                            bytes;
    const auto mesh = scene::parse_mesh(glb, "rock.GLB", "rock.GLB", "");
    ASSERT_TRUE(mesh) << to_text(mesh.error());
    EXPECT_TRUE(mesh->vertices[2].isApprox(Vec3(0, 0, 7), 1e-6));
}

TEST(ALampWithAPhotometricFile, has_its_table_and_writes_it_back) {
    nlohmann::json document = {{"format", "dapple/enclosure@1"}, {"id", "box"}, {"size_cm", {100, 50, 40}}};
    document["lamps"] = {{{"id", "s"}, {"kind", "spot"}, {"centre_cm", {50, 25, 35}}, {"ies", quadrant}}};
    const auto enclosure = good(document);
    const auto& spot = std::get<scene::Spot>(enclosure.lamps[0].shape);
    ASSERT_TRUE(spot.photometry);
    EXPECT_NEAR(spot.photometry->at(45 * deg, 0), 0.8, exact);
    EXPECT_EQ(to_json(enclosure), document);
}

}  // namespace
}  // namespace dapple::tests
