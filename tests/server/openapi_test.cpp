// The description that is served and what is served are the same: addresses, kinds, fields, and what answers look like.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "embedded/files.h"
#include "record/kind.h"
#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;

json description() {
    return json::parse(*embedded::find(embedded::data(), "schemas/openapi.json"));
}

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

std::string schema_of(const json& openapi, const record::Kind& kind) {
    const std::string address = "/api/" + std::string(kind.plural) + "/{id}";
    const std::string reference =
        openapi["paths"][address]["get"]["responses"]["200"]["content"]["application/json"]["schema"]["$ref"];
    return reference.substr(reference.rfind('/') + 1);
}

TEST(TheDescription, names_every_address_and_no_other) {
    AServer server;
    std::set<std::string> served;
    for (const server::Route& route : server.api().routes())
        served.insert(lower(route.method) + " " + route.pattern);
    std::set<std::string> described;
    const json openapi = description();
    for (const auto& [path, methods] : openapi["paths"].items()) {
        for (const auto& [method, operation] : methods.items()) described.insert(method + " " + path);
    }
    EXPECT_EQ(served, described);
}

TEST(TheDescription, says_who_may_ask) {
    const char* names[] = {"everybody", "person", "viewer", "keeper", "manager"};
    AServer server;
    const json openapi = description();
    for (const server::Route& route : server.api().routes()) {
        const json& operation = openapi["paths"][route.pattern][lower(route.method)];
        EXPECT_EQ(operation["x-access"], names[static_cast<int>(route.access)])
            << route.method << route.pattern;
    }
}

TEST(TheDescription, has_the_fields_of_every_kind) {
    const json openapi = description();
    for (const record::Kind& kind : record::kinds()) {
        const json& schema = openapi["components"]["schemas"][schema_of(openapi, kind)];
        std::set<std::string> fields = {"kind", "id", "site", "revision", "made", "changed", "retired_at"};
        std::set<std::string> required = fields;
        for (const record::Field& field : kind.fields) {
            fields.insert(std::string(field.name));
            if (field.required) required.insert(std::string(field.name));
        }
        std::set<std::string> described;
        for (const auto& [name, property] : schema["properties"].items()) described.insert(name);
        EXPECT_EQ(described, fields) << kind.name;
        EXPECT_EQ(schema["required"].get<std::set<std::string>>(), required) << kind.name;
        for (const record::Field& field : kind.fields) {
            if (field.allowed.empty()) continue;
            const json& property = schema["properties"][std::string(field.name)];
            EXPECT_EQ(property["enum"].size(), field.allowed.size()) << kind.name << " " << field.name;
        }
    }
}

TEST(TheDescription, refers_to_nothing_that_is_not_there) {
    const json openapi = description();
    const std::string text = openapi.dump();
    const std::string mark = "\"#/components/schemas/";
    int references = 0;
    for (std::size_t at = text.find(mark); at != std::string::npos;
         at = text.find(mark, at + 1), ++references) {
        const std::size_t begin = at + mark.size();
        const std::string name = text.substr(begin, text.find('"', begin) - begin);
        EXPECT_TRUE(openapi["components"]["schemas"].contains(name)) << name;
    }
    EXPECT_GT(references, 100);
}

}  // namespace
}  // namespace dapple::tests
