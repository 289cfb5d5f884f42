// Broken documents, each with the very words a person is told. The table is broken.json: every entry changes the
// contract's example (`put`, `remove`, by JSON pointer) or gives a text of its own. The JSON Schema must refuse
// the same documents, but for those marked `"schema": "accepts"`, whose fault a schema cannot express.
#include <gtest/gtest.h>

#include "samples.h"
#include "schema_validation.h"

namespace dapple::tests {
namespace {

using Json = nlohmann::json;

Json table() {
    static const Json entries = Json::parse(text_of("tests/scene/broken.json"));
    return entries;
}

std::string broken_text(const Json& entry) {
    if (entry.contains("text")) return entry["text"];
    Json document = contract_example();
    const Json put = entry.value("put", Json::object());
    for (const auto& [pointer, value] : put.items()) document[Json::json_pointer(pointer)] = value;
    for (const std::string pointer : entry.value("remove", Json::array())) {
        const Json::json_pointer place(pointer);
        document[place.parent_pointer()].erase(place.back());
    }
    return document.dump();
}

TEST(ABrokenDocument, is_refused_with_all_its_faults_in_plain_words) {
    for (const Json& entry : table()) {
        std::string expected;
        for (const std::string message : entry.at("says")) expected += message + "\n";
        ASSERT_NE(expected, "");
        EXPECT_EQ(faults(broken_text(entry)), expected) << entry["about"];
    }
}

TEST(ABrokenDocument, is_refused_by_the_schema_too_where_a_schema_can_tell) {
    for (const Json& entry : table()) {
        const Json document = Json::parse(broken_text(entry), nullptr, false);
        if (document.is_discarded()) continue;  // not even JSON: no case for a schema
        EXPECT_EQ(schema_accepts(document), entry.value("schema", "refuses") == "accepts") << entry["about"];
    }
}

TEST(TheTableOfBrokenDocuments, holds_at_least_seventy) {
    EXPECT_GE(table().size(), 70U);
}

TEST(AGoodDocument, is_accepted_by_the_schema) {
    EXPECT_TRUE(schema_accepts(contract_example()));
}

TEST(AnyDocument, of_bytes_that_are_no_text_is_refused_in_valid_text) {
    const std::string message = faults(std::string("{\"id\": \"\xff\xfe\"}"));
    EXPECT_NE(message, "");
    EXPECT_NO_THROW((void)Json(message).dump());  // would throw on bytes that are no UTF-8
}

TEST(AHopelessDocument, is_told_about_its_first_faults_only) {
    Json document = contract_example();
    for (int i = 0; i < 300; ++i) document["spots"].push_back(i);
    const auto result = scene::parse_enclosure(document.dump());
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().size(), 201U);
    EXPECT_EQ(result.error().back().found, "more faults than are listed here");
}

}  // namespace
}  // namespace dapple::tests
