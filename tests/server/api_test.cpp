// The HTTP interface without sockets: every route of the contract, and every way to ask it wrongly.
#include "server/api.h"

#include <gtest/gtest.h>

#include <bit>
#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>

#include "embedded/files.h"

namespace dapple::server {
namespace {

using nlohmann::json;

json box_with_a_lamp() {
    return {{"format", "dapple/enclosure@1"},
            {"id", "box"},
            {"size_cm", {60, 40, 40}},
            {"animals", {{{"species", "pogona_vitticeps"}}}},
            {"lamps",
             {{{"id", "uv"},
               {"kind", "tube"},
               {"length_cm", 40},
               {"diameter_cm", 1.6},
               {"centre_cm", {30, 20, 38}},
               {"spectrum", "fluorescent_uvb_mid"},
               {"output", {{"uvi", 4.0}, {"at_cm", 25}}}}}},
            {"spots", {{{"id", "floor"}, {"position_cm", {30, 20, 0}}, {"role", "bask"}}}}};
}

class TheInterface : public testing::Test {
  protected:
    Response get(const std::string& path, std::map<std::string, std::string> query = {}) {
        return api_.answer({"GET", path, std::move(query), "", ""});
    }
    Response post(const std::string& path, const json& body) { return post_text(path, body.dump()); }
    Response post_text(const std::string& path, const std::string& body,
                       const std::string& type = "application/json") {
        return api_.answer({"POST", path, {}, type, body});
    }
    static void expect_refusal(const Response& response, int status) {
        EXPECT_EQ(response.status, status) << response.body;
        EXPECT_TRUE(response.content_type.starts_with("application/problem+json"));
        const json details = json::parse(response.body);
        EXPECT_EQ(details["status"], status);
        EXPECT_FALSE(details["title"].get<std::string>().empty());
        EXPECT_TRUE(details["problems"].is_array());
    }

    Api api_;
};

TEST_F(TheInterface, lists_every_document_of_the_demo_collection_with_a_judgement) {
    std::size_t documents = 0;
    for (const auto& file : embedded::examples()) documents += file.path.ends_with(".json") ? 1 : 0;
    const json list = json::parse(get("/api/enclosures").body)["enclosures"];
    ASSERT_GT(documents, 0U);
    ASSERT_EQ(list.size(), documents);
    for (const json& entry : list) {
        EXPECT_FALSE(entry["judgement"].is_null()) << entry["id"];
        const Response one = get("/api/enclosures/" + entry["id"].get<std::string>());
        EXPECT_EQ(one.status, 200);
        EXPECT_EQ(json::parse(one.body)["id"], entry["id"]);
    }
}

TEST_F(TheInterface, reads_the_same_uvi_at_a_point_and_in_a_field_through_it) {
    const json at = json::parse(
        post("/api/at", {{"enclosure", box_with_a_lamp()}, {"points_cm", {{20, 20, 10}}}, {"bounces", 0}})
            .body);
    const json grid = {{"min_cm", {10, 20, 10}}, {"max_cm", {30, 20, 10}}, {"counts", {3, 1, 1}}};
    const Response field =
        post("/api/field", {{"enclosure", box_with_a_lamp()}, {"grid", grid}, {"bounces", 0}});
    ASSERT_EQ(field.status, 200) << field.body;
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(field.body[i]));
    };
    const auto word = [&](std::size_t i) {
        return byte(i) | byte(i + 1) << 8U | byte(i + 2) << 16U | byte(i + 3) << 24U;
    };
    const std::size_t length = word(0);
    EXPECT_EQ(length % 4, 0U);
    ASSERT_EQ(field.body.size(), 4 + length + std::size_t{3} * 4);
    EXPECT_EQ(json::parse(field.body.substr(4, length))["quantity"], "uvi");
    const double middle = static_cast<double>(std::bit_cast<float>(word(4 + length + 4)));
    // The fast path of grids is allowed a few tenths of a percent (light/field.h).
    EXPECT_NEAR(middle, at["points"][0]["uvi"].get<double>(), 0.01 * middle);
}

TEST_F(TheInterface, judges_and_searches_a_document_as_the_command_line_does) {
    const json check = json::parse(post("/api/check", {{"enclosure", box_with_a_lamp()}}).body);
    EXPECT_EQ(check["enclosure"], "box");
    EXPECT_EQ(check["spots"][0]["id"], "floor");
    EXPECT_TRUE(check["animals"][0]["verdict"]["overall"].contains("holds"));
    EXPECT_TRUE(json::parse(post("/api/fix", {{"enclosure", box_with_a_lamp()}}).body)["fixes"].is_array());
}

TEST_F(TheInterface, finds_species_and_names_materials_spectra_and_its_own_description) {
    const json found = json::parse(get("/api/species", {{"words", "bearded dragon"}}).body)["species"];
    ASSERT_FALSE(found.empty());
    const std::string id = found[0]["id"];
    EXPECT_EQ(json::parse(get("/api/species/" + id).body)["id"], id);
    expect_refusal(get("/api/species/nobody_knows_this"), 404);
    const json materials = json::parse(get("/api/materials").body);
    for (const json& m : materials["materials"]) {
        EXPECT_EQ(m["colour"].get<std::string>().size(), 7U) << m["id"];
    }
    const json spectra = json::parse(get("/api/spectra").body);
    for (const json& s : spectra["spectra"]) {
        EXPECT_EQ(s["nm"].size(), s["relative"].size()) << s["id"];
    }
    EXPECT_EQ(json::parse(get("/api/openapi.json").body)["openapi"], "3.1.0");
    EXPECT_TRUE(json::parse(get("/api/schema/enclosure").body).contains("$schema"));
}

TEST_F(TheInterface, names_the_place_and_the_nearest_word_when_a_document_is_wrong) {
    json wrong = box_with_a_lamp();
    wrong["lamps"][0]["spectrun"] = "halogen";
    const Response refused = post("/api/check", {{"enclosure", wrong}});
    expect_refusal(refused, 422);
    EXPECT_NE(refused.body.find("/lamps/0"), std::string::npos) << refused.body;
    EXPECT_NE(refused.body.find("spectrum"), std::string::npos) << refused.body;
}

TEST_F(TheInterface, refuses_what_it_cannot_use_and_says_why) {
    const json enclosure = box_with_a_lamp();
    expect_refusal(post_text("/api/check", "{"), 400);
    expect_refusal(post_text("/api/check", "[]"), 400);
    expect_refusal(post_text("/api/check", ""), 400);
    expect_refusal(post_text("/api/check", std::string(1'000'000, '[')), 400);
    expect_refusal(post_text("/api/check", "{\"enclosure\": \"\xff\xfe\"}"), 400);
    expect_refusal(post("/api/check", {{"enclosur", enclosure}}), 400);
    expect_refusal(post("/api/check", json::object()), 422);
    expect_refusal(post_text("/api/check", json{{"enclosure", enclosure}}.dump(), "text/plain"), 415);
    expect_refusal(get("/api/check"), 405);
    expect_refusal(post("/api/species", json::object()), 405);
    expect_refusal(get("/api/nothing"), 404);
    expect_refusal(get("/api/enclosures/nowhere"), 404);
    expect_refusal(get("/api/enclosures/../../secret"), 404);
}

TEST_F(TheInterface, refuses_grids_points_and_words_out_of_range) {
    const json enclosure = box_with_a_lamp();
    const auto field = [&](const json& counts, const json& min) {
        return post("/api/field", {{"enclosure", enclosure},
                                   {"grid", {{"min_cm", min}, {"max_cm", {1, 1, 1}}, {"counts", counts}}}});
    };
    expect_refusal(field({0, 1, 1}, {1, 1, 1}), 422);
    expect_refusal(field({1000, 1000, 1000}, {1, 1, 1}), 422);
    expect_refusal(field({1.5, 1, 1}, {1, 1, 1}), 422);
    expect_refusal(field({2, 2, 1}, {1e300, 1, 1}), 422);
    expect_refusal(field({2, 2, 1}, "here"), 422);
    expect_refusal(post("/api/field", {{"enclosure", enclosure}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", json::array()}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2}}}}), 422);
    expect_refusal(
        post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2, 3}}}, {"facing", "sideways"}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2, 3}}}, {"bounces", 1e9}}),
                   422);
}

}  // namespace
}  // namespace dapple::server
