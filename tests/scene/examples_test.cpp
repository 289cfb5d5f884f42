// The examples that ship with the program.
#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>
#include <set>

#include "samples.h"
#include "schema_validation.h"

namespace dapple::tests {
namespace {

std::vector<std::string> example_paths() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(DAPPLE_ROOT) + "/examples")) {
        if (entry.path().extension() == ".json") paths.push_back(entry.path().string());
    }
    return paths;
}

TEST(EveryExample, is_a_good_document_to_reader_and_schema) {
    ASSERT_GE(example_paths().size(), 7U);
    for (const auto& path : example_paths()) {
        const auto enclosure = scene::load_enclosure(path);
        ASSERT_TRUE(enclosure) << to_text(enclosure.error());
        const auto document = nlohmann::json::parse(enclosure->source);
        EXPECT_TRUE(schema_accepts(document)) << path;
        EXPECT_EQ(to_json(*enclosure), document) << path;
    }
}

TEST(EveryExample, has_animals_a_place_to_bask_and_one_to_retreat_to) {
    for (const auto& path : example_paths()) {
        const auto enclosure = scene::load_enclosure(path);
        ASSERT_TRUE(enclosure);
        EXPECT_FALSE(enclosure->animals.empty()) << path;
        std::set<scene::Role> roles;
        for (const auto& spot : enclosure->spots) roles.insert(spot.role);
        EXPECT_TRUE(roles.contains(scene::Role::bask) && roles.contains(scene::Role::retreat)) << path;
        for (const auto& lamp : enclosure->lamps) EXPECT_FALSE(lamp.output.empty()) << path << " " << lamp.id;
    }
}

TEST(TheRockOfAnExample, is_closed_and_its_faces_look_outward) {
    const auto enclosure = scene::load_enclosure(std::string(DAPPLE_ROOT) + "/examples/gravel-plain.json");
    ASSERT_TRUE(enclosure) << to_text(enclosure.error());
    const auto& mesh = std::get<scene::MeshShape>(enclosure->furniture.at(0).shape);
    std::multiset<std::pair<int, int>> edges;
    double volume = 0;  // by the divergence theorem: positive when the faces look outward
    for (const auto& t : mesh.triangles) {
        for (std::size_t i = 0; i < 3; ++i) edges.emplace(t[i], t[(i + 1) % 3]);
        const auto& a = mesh.vertices[static_cast<std::size_t>(t[0])];
        const auto& b = mesh.vertices[static_cast<std::size_t>(t[1])];
        const auto& c = mesh.vertices[static_cast<std::size_t>(t[2])];
        volume += a.dot(b.cross(c)) / 6;
    }
    for (const auto& [from, to] : edges) EXPECT_EQ(edges.count({to, from}), 1U);
    EXPECT_GT(volume, 0.01);  // 48 x 36 x 24 cm, about half filled
    EXPECT_LT(volume, 0.04);
}

TEST(AnExample, is_read_in_less_than_a_millisecond) {
    const std::string text = text_of("examples/heath-edge.json");
    scene::ReadOptions options;
    options.read_file = [](const std::string& name) { return text_of("examples/" + name); };
    ASSERT_EQ(faults(text, options), "");  // libraries are loaded by the first reading
    constexpr int rounds = 20;
    double best = 1e9;  // of several: the machine may be busy with other things
    for (int i = 0; i < rounds; ++i) {
        const auto start = std::chrono::steady_clock::now();
        const auto enclosure = scene::parse_enclosure(text, options);
        const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
        best = std::min(best, took.count());
    }
    RecordProperty("best_ms", std::to_string(best));
#if !defined(__SANITIZE_ADDRESS__) && defined(NDEBUG)  // the promise is one of the release build
    EXPECT_LT(best, 1);
#endif
}

}  // namespace
}  // namespace dapple::tests
