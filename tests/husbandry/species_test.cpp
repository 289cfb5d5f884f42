#include "husbandry/species.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "husbandry/species_sheet.h"

namespace dapple::husbandry {
namespace {

std::string first_found(const std::string& words) {
    const auto found = search_species(words, 3);
    return found.empty() ? "nothing" : found.front().id;
}

// ---- the shipped library ------------------------------------------------------------------------------------
TEST(species_library, every_sheet_is_readable) {
    const auto library = read_library(embedded::data());
    ASSERT_TRUE(library) << to_text(library.error());
    EXPECT_GE(library->size(), 150u);
}

TEST(species_library, is_sorted_by_scientific_name_and_every_id_is_its_name) {
    const auto& library = species_library();
    EXPECT_TRUE(std::is_sorted(library.begin(), library.end(), [](const Species& a, const Species& b) {
        return a.scientific_name < b.scientific_name;
    }));
    for (const Species& s : library) EXPECT_EQ(scientific_name_of(s.id), s.scientific_name);
}

TEST(species_library, every_value_has_a_source_and_a_confidence) {
    for (const Species& s : species_library()) {
        for (const char* field : {"zones", "back_height_cm", "climbs", "habit", "activity", "habitat"}) {
            ASSERT_TRUE(s.sources.count(field)) << s.id << " " << field;
        }
        for (const auto& [field, from] : s.sources) {
            EXPECT_GT(from.source.size(), 20u) << s.id << " " << field << ": a key instead of a citation?";
        }
        if (s.basking_surface_c) {
            EXPECT_TRUE(s.sources.count("basking_surface_c")) << s.id;
        }
        EXPECT_GT(s.back_height, 0) << s.id;
        EXPECT_FALSE(s.estimate) << s.id;
    }
}

TEST(species_library, a_damaged_file_is_reported_with_every_fault) {
    const std::string_view file =
        R"({"format": "dapple/species@1", "group": "frogs", "sources": {"a": "A book"},
        "species": [{"id": "x_y", "zones": [2, 4], "habbit": "arboreal"},
                    {"id": "x_z", "sources": {"zones": {"source": "b", "confidence": "high"}}}]})";
    const auto library = read_library({{"species/frogs.json", file}});
    ASSERT_FALSE(library);
    ASSERT_EQ(library.error().size(), 3u) << to_text(library.error());
    EXPECT_NE(to_text(library.error()).find("/species/0/habbit"), std::string::npos);
    EXPECT_NE(to_text(library.error()).find("\"habit\""), std::string::npos);
    EXPECT_NE(to_text(library.error()).find("/species/0/zones"), std::string::npos);
    EXPECT_NE(to_text(library.error()).find("/species/1/sources/zones"), std::string::npos);
}

TEST(species_library, the_same_id_twice_is_a_fault) {
    const std::string_view file = R"({"format": "dapple/species@1", "group": "frogs", "sources": {},
                                      "species": [{"id": "x_y"}, {"id": "x_y"}]})";
    EXPECT_FALSE(read_library({{"species/frogs.json", file}}));
}

TEST(species_library, a_synonym_written_as_an_id_finds_its_species) {
    const Species* boa = find_species("boa_dumerili");
    ASSERT_NE(boa, nullptr);
    EXPECT_EQ(boa->id, "acrantophis_dumerili");
    EXPECT_EQ(find_species("no_such_animal"), nullptr);
}

// ---- search -------------------------------------------------------------------------------------------------
TEST(species_search, every_species_is_first_under_its_scientific_name) {
    for (const Species& s : species_library()) EXPECT_EQ(first_found(s.scientific_name), s.id);
}

TEST(species_search, every_species_is_first_under_its_id) {
    for (const Species& s : species_library()) EXPECT_EQ(first_found(s.id), s.id);
}

TEST(species_search, every_common_name_and_synonym_finds_its_species) {
    for (const Species& s : species_library()) {
        auto names = s.common_names;
        names.insert(names.end(), s.synonyms.begin(), s.synonyms.end());
        for (const std::string& name : names) {
            const auto found = search_species(name, 12);
            EXPECT_TRUE(std::any_of(found.begin(), found.end(), [&](const Species& f) {
                return f.id == s.id;
            })) << name;
        }
    }
}

TEST(species_search, slips_of_the_finger_are_forgiven) {
    EXPECT_EQ(first_found("pogona viticeps"), "pogona_vitticeps");
    EXPECT_EQ(first_found("pogna vitticpes"), "pogona_vitticeps");
    EXPECT_EQ(first_found("boa constrcitor"), "boa_constrictor");
}

TEST(species_search, word_order_capitals_blanks_and_hyphens_do_not_matter) {
    EXPECT_EQ(first_found("VITTICEPS pogona"), "pogona_vitticeps");
    EXPECT_EQ(first_found("dragon, central bearded"), "pogona_vitticeps");
    EXPECT_EQ(first_found("red tailed boa"), "boa_constrictor");
    EXPECT_EQ(first_found("boaconstrictor"), "boa_constrictor");
}

TEST(species_search, the_beginning_of_a_name_is_enough) {
    EXPECT_EQ(first_found("crotaph").rfind("crotaphytus_", 0), 0u);
    EXPECT_EQ(first_found("pogona vitt"), "pogona_vitticeps");
}

TEST(species_search, a_family_lists_its_members) {
    const auto found = search_species("Boidae", 50);
    EXPECT_GE(found.size(), 3u);
    for (const Species& s : found) EXPECT_EQ(s.family, "Boidae");
}

TEST(species_search, no_more_are_given_than_asked_for) {
    EXPECT_EQ(search_species("gecko", 4).size(), 4u);
    EXPECT_EQ(search_species("", 7).size(), 7u);
    EXPECT_TRUE(search_species("gecko", 0).empty());
}

TEST(species_search, words_that_mean_nothing_find_nothing) {
    EXPECT_TRUE(search_species("qqqqqq").empty());
    EXPECT_TRUE(search_species("wwww xxxx").empty());
}

TEST(species_search, an_unlisted_species_of_a_known_genus_brings_a_marked_estimate_first_then_its_relatives) {
    const auto found = search_species("pogona inventata", 5);
    ASSERT_GE(found.size(), 2u);
    EXPECT_TRUE(found[0].estimate);
    EXPECT_EQ(found[0].id, "pogona_inventata");
    EXPECT_EQ(found[0].scientific_name, "Pogona inventata");
    EXPECT_FALSE(found[1].estimate);
    EXPECT_EQ(found[1].scientific_name.rfind("Pogona", 0), 0u);
}

RC_GTEST_PROP(species_search, any_text_is_an_answer_or_nothing_but_never_a_crash, (const std::string& text)) {
    RC_ASSERT(search_species(text, 3).size() <= 3u);
}

// ---- estimates ----------------------------------------------------------------------------------------------
TEST(species_estimate, every_field_is_of_low_confidence_and_names_the_relatives) {
    const auto s = estimate_species("Pogona inventata");
    ASSERT_TRUE(s);
    EXPECT_TRUE(s->estimate);
    for (const auto& [field, from] : s->sources) {
        EXPECT_EQ(from.confidence, "low") << field;
        EXPECT_NE(from.source.find("Pogona vitticeps"), std::string::npos) << field;
    }
    for (const char* field : {"zones", "back_height_cm", "climbs", "habit", "activity", "habitat"}) {
        EXPECT_TRUE(s->sources.count(field)) << field;
    }
}

TEST(species_estimate, a_genus_that_agrees_is_followed) {
    std::vector<const Species*> pogona;
    for (const Species& s : species_library()) {
        if (s.scientific_name.rfind("Pogona ", 0) == 0) pogona.push_back(&s);
    }
    ASSERT_FALSE(pogona.empty());
    const auto s = estimate_species("Pogona inventata");
    EXPECT_EQ(s->family, pogona.front()->family);
    EXPECT_EQ(s->group, "lizards");
    const auto lowest = [](const Species* a, const Species* b) { return a->back_height < b->back_height; };
    const auto [small, large] = std::minmax_element(pogona.begin(), pogona.end(), lowest);
    EXPECT_GE(s->back_height, (*small)->back_height - 0.0025);  // rounded to half a centimetre
    EXPECT_LE(s->back_height, (*large)->back_height + 0.0025);
    ASSERT_TRUE(s->basking_surface_c);
    EXPECT_LT(s->basking_surface_c->first, s->basking_surface_c->second);
}

TEST(species_estimate, zones_stay_one_or_two_adjacent_for_every_genus_and_family) {
    for (const Species& relative : species_library()) {
        const auto genus = estimate_species(relative.scientific_name + " x");
        const auto family =
            estimate_species("Nullus nullus", {relative.family, relative.habit, relative.activity});
        for (const auto& s : {genus, family}) {
            ASSERT_TRUE(s);
            ASSERT_LE(s->zones.size(), 2u);
            for (const int zone : s->zones) EXPECT_TRUE(zone >= 1 && zone <= 4) << s->id;
            if (s->zones.size() == 2) {
                EXPECT_EQ(s->zones[1], s->zones[0] + 1);
            }
            EXPECT_GT(s->back_height, 0);
        }
    }
}

TEST(species_estimate, the_family_stands_in_for_an_unknown_genus_and_habits_for_an_unknown_family) {
    const auto family = estimate_species("Nullus nullus", {"Boidae", "", ""});
    ASSERT_TRUE(family);
    EXPECT_EQ(family->group, "snakes");
    EXPECT_EQ(family->sources.at("family").source, "given by the keeper");
    const auto habit = estimate_species("Nullus nullus", {"", "saxicolous", "diurnal"});
    ASSERT_TRUE(habit);
    EXPECT_EQ(habit->habit, "saxicolous");
    EXPECT_NE(habit->sources.at("zones").source.find("same habits"), std::string::npos);
}

TEST(species_estimate, nothing_is_estimated_from_nothing) {
    EXPECT_FALSE(estimate_species("Nullus nullus"));
    EXPECT_FALSE(estimate_species(""));
}

// ---- sheets in documents ------------------------------------------------------------------------------------
TEST(species_sheet, a_keepers_own_species_needs_no_more_than_an_id) {
    const auto s = parse_species(R"({"id": "nova_species"})", "room.json", "/species/0");
    ASSERT_TRUE(s);
    EXPECT_EQ(s->scientific_name, "Nova species");
    EXPECT_TRUE(s->zones.empty());
    EXPECT_FALSE(s->estimate);
}

TEST(species_sheet, all_fields_are_read_in_metres_and_degrees) {
    const auto s =
        parse_species(R"({"id": "a_b", "scientific_name": "A b", "zones": [2, 3], "back_height_cm": 4,
        "climbs": true, "basking_surface_c": [38, 42], "night_c": null,
        "sources": {"zones": {"source": "our own notes", "confidence": "medium"}}})",
                      "", "");
    ASSERT_TRUE(s) << to_text(s.error());
    EXPECT_EQ(s->zones, (std::vector<int>{2, 3}));
    EXPECT_DOUBLE_EQ(s->back_height, 0.04);
    EXPECT_TRUE(s->climbs);
    EXPECT_EQ(s->basking_surface_c->second, 42);
    EXPECT_FALSE(s->night_c);
    EXPECT_EQ(s->sources.at("zones").source, "our own notes");
}

TEST(species_sheet, every_fault_is_named_with_its_place) {
    const auto s =
        parse_species(R"({"zones": [5], "back_height_cm": -1, "climbs": "yes", "night_c": [30, 20]})",
                      "room.json", "/animals/0/species");
    ASSERT_FALSE(s);
    EXPECT_EQ(s.error().size(), 5u) << to_text(s.error());
    for (const char* field : {"id", "zones", "back_height_cm", "climbs", "night_c"}) {
        EXPECT_NE(to_text(s.error()).find(std::string("room.json at /animals/0/species/") + field),
                  std::string::npos);
    }
}

TEST(species_sheet, text_that_is_no_json_is_a_problem_and_no_crash) {
    EXPECT_FALSE(parse_species("{", "x", ""));
    EXPECT_FALSE(parse_species("[]", "x", ""));
    EXPECT_FALSE(parse_species("", "x", ""));
}

TEST(species_sheet, the_answer_carries_the_fields_of_the_contract) {
    const nlohmann::json answer = to_json(*find_species("pogona_vitticeps"));
    EXPECT_EQ(answer["id"], "pogona_vitticeps");
    EXPECT_EQ(answer["names"][0], "Pogona vitticeps");
    EXPECT_EQ(answer["estimate"], false);
    EXPECT_EQ(answer["band"].size(), 2u);
    EXPECT_TRUE(answer["climbs"].is_boolean());
    EXPECT_GT(answer["back_height_cm"].get<double>(), 0);
    for (const auto& [field, from] : answer["sources"].items()) {
        EXPECT_TRUE(from["source"].is_string()) << field;
        EXPECT_TRUE(from["confidence"].is_string()) << field;
    }
}

}  // namespace
}  // namespace dapple::husbandry
