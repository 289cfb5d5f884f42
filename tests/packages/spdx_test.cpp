// The list of dependencies is an SPDX 2.3 document by the specification's own schema, judged by an independent validator,
// and names everything that Dapple is built with. (reference/spdx/validate.py holds it to the rest of the specification.)
#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "packages/files.h"

namespace dapple::tests {

namespace {

using nlohmann::json;

const json& document() {
    static const json read_once = json::parse(read(root / "packaging/dependencies.spdx.json"));
    return read_once;
}

// Sentences of what the schema does not allow.
std::vector<std::string> schema_faults(const json& judged) {
    const json text = json::parse(read(root / "reference/spdx/spdx-schema-2.3.json"));
    valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(text), schema);
    valijson::Validator validator;
    valijson::ValidationResults results;
    validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(judged), &results);
    std::vector<std::string> faults;
    for (valijson::ValidationResults::Error error; results.popError(error);) {
        std::string place;
        for (const std::string& step : error.context) place += step;
        faults.push_back(place + ": " + error.description);
    }
    return faults;
}

// What the document knows under names like "pkg:npm/": name and version of each.
std::map<std::string, std::set<std::string>> listed(const std::string& kind) {
    std::map<std::string, std::set<std::string>> found;
    for (const json& package : document()["packages"]) {
        for (const json& reference : package.value("externalRefs", json::array())) {
            if (reference["referenceLocator"].get<std::string>().starts_with(kind)) {
                found[package["name"]].insert(package["versionInfo"].get<std::string>());
            }
        }
    }
    return found;
}

std::vector<std::string> named_in(const std::string& list) {
    std::vector<std::string> names;
    for (const std::string& line : lines_of(read(root / list))) {
        std::istringstream words(line.substr(0, line.find('#')));
        std::string name;
        if (words >> name) names.push_back(name);
    }
    return names;
}

}  // namespace

TEST(TheListOfDependencies, is_spdx_by_its_schema) {
    EXPECT_EQ(document()["spdxVersion"], "SPDX-2.3");
    for (const std::string& fault : schema_faults(document())) ADD_FAILURE() << fault;
}

TEST(TheSchema, finds_a_fault_that_was_put_in) {
    json broken = document();
    broken["packages"][0]["downloadLocation"] = 7;
    broken["relationships"][0]["relationshipType"] = "LIKES";
    EXPECT_GE(schema_faults(broken).size(), 2U);
}

TEST(TheListOfDependencies, names_every_debian_package_that_building_needs) {
    const auto known = listed("pkg:deb/");
    const auto wanted = named_in("packages/debian.txt");
    EXPECT_GT(wanted.size(), 20U);
    for (const std::string& name : wanted)
        EXPECT_TRUE(known.contains(name)) << name << "; packaging/spdx/make.mjs";
}

TEST(TheListOfDependencies, names_every_npm_package_of_the_lock_in_its_version) {
    const auto known = listed("pkg:npm/");
    const json lock = json::parse(read(root / "web/package-lock.json"));
    std::size_t seen = 0;
    for (const auto& [path, entry] : lock["packages"].items()) {
        const std::string folder = "node_modules/";
        if (path.empty() || entry.value("link", false)) continue;
        const std::string name = entry.value("name", path.substr(path.rfind(folder) + folder.size()));
        const std::string version = entry["version"];
        ++seen;
        EXPECT_TRUE(known.contains(name) && known.at(name).contains(version))
            << name << "@" << version << "; packaging/spdx/make.mjs";
    }
    EXPECT_GT(seen, 100U);
}

TEST(TheListOfDependencies, gives_every_package_a_licence_and_defines_those_of_its_own) {
    std::set<std::string> own;
    for (const json& text : document()["hasExtractedLicensingInfos"])
        own.insert(text["licenseId"].get<std::string>());
    for (const json& package : document()["packages"]) {
        const std::string licence = package["licenseConcluded"];
        EXPECT_FALSE(licence.empty() || licence == "NOASSERTION" || licence == "NONE") << package["name"];
        std::istringstream words(licence);
        for (std::string word; words >> word;) {
            if (!word.starts_with("LicenseRef-")) continue;
            EXPECT_TRUE(own.contains(word)) << package["name"] << ": " << word;
        }
    }
}

TEST(TheListOfDependencies, relates_only_what_it_lists_and_each_to_the_program) {
    std::set<std::string> ids = {"SPDXRef-DOCUMENT"};
    for (const json& package : document()["packages"]) {
        EXPECT_TRUE(ids.insert(package["SPDXID"].get<std::string>()).second) << package["SPDXID"] << " twice";
    }
    std::set<std::string> related;
    for (const json& relationship : document()["relationships"]) {
        for (const char* end : {"spdxElementId", "relatedSpdxElement"}) {
            EXPECT_TRUE(ids.contains(relationship[end].get<std::string>())) << relationship[end];
            related.insert(relationship[end].get<std::string>());
        }
    }
    EXPECT_EQ(related, ids);
}

// docs/decisions/0020-apache-licence.md: a library under another licence than these has to be thought about first.
TEST(TheProgram, loads_and_carries_nothing_that_could_not_go_with_the_gpl_3) {
    const std::set<std::string> thought_about = {
        "Apache-2.0", "MIT", "MIT-0", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "ISC", "BSL-1.0", "CC0-1.0",
        "Unlicense", "Zlib", "PostgreSQL", "MPL-2.0", "LGPL-2.0-or-later", "LGPL-2.1-only",
        "LGPL-2.1-or-later", "LGPL-3.0-or-later", "GPL-2.0-or-later", "GPL-3.0-or-later", "GCC-exception-3.1",
        "OFL-1.1", "Bitstream-Vera", "FTL", "libpng-2.0", "bzip2-1.0.6", "X11", "MIT-open-group",
        "HPND-sell-variant", "OLDAP-2.8", "MPL-1.1", "IJG", "LicenseRef-public-domain",
        // Of Cyrus SASL, which Debian's libpq loads by way of libldap: a plugin loader of the system, not ours to choose.
        "BSD-4-Clause"};
    std::map<std::string, std::string> licence;
    for (const json& package : document()["packages"])
        licence[package["SPDXID"]] = package["licenseConcluded"];
    std::size_t seen = 0;
    for (const json& relationship : document()["relationships"]) {
        const std::string type = relationship["relationshipType"];
        if (type != "DYNAMIC_LINK" && type != "STATIC_LINK" && type != "DEPENDS_ON") continue;
        const std::string id = relationship["relatedSpdxElement"];
        std::istringstream words(licence.at(id));
        ++seen;
        for (std::string word; words >> word;) {
            if (word == "AND" || word == "OR" || word == "WITH") continue;
            EXPECT_TRUE(thought_about.contains(word)) << id << ": " << word;
        }
    }
    EXPECT_GT(seen, 50U);
}

}  // namespace dapple::tests
