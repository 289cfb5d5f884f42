// Judges documents by the shipped JSON Schema alone, with an independent validator.
#pragma once

#include <memory>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "scene/document.h"

namespace dapple::tests {

inline bool schema_accepts(const nlohmann::json& document) {
    static const auto schema = [] {
        const auto json = nlohmann::json::parse(scene::schema());
        auto result = std::make_unique<valijson::Schema>();
        valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
        parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(json), *result);
        return result;
    }();
    valijson::Validator validator;
    return validator.validate(*schema, valijson::adapters::NlohmannJsonAdapter(document), nullptr);
}

}  // namespace dapple::tests
