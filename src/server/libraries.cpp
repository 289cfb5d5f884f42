// Species, materials, spectra, and the schemas.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "embedded/files.h"
#include "husbandry/species.h"
#include "scene/document.h"
#include "server/answers.h"
#include "server/library.h"
#include "server/route.h"

namespace dapple::server {

using nlohmann::json;

namespace {

constexpr std::size_t most_found = 30;

Response species(const Asked& asked) {
    const std::string words = asked.request.asked("words");
    json list = json::array();
    if (words.empty()) {
        for (const husbandry::Species& sheet : husbandry::species_library())
            list.push_back(husbandry::to_json(sheet));
    } else {
        for (const husbandry::Species& sheet : husbandry::search_species(words, most_found)) {
            list.push_back(husbandry::to_json(sheet));
        }
    }
    return json_answer({{"species", std::move(list)}});
}

Response one_species(const Asked& asked) {
    if (const husbandry::Species* sheet = husbandry::find_species(asked.id)) {
        return json_answer(husbandry::to_json(*sheet));
    }
    std::string name = asked.id;
    std::replace(name.begin(), name.end(), '_', ' ');
    if (const auto estimate = husbandry::estimate_species(name)) {
        return json_answer(husbandry::to_json(*estimate));
    }
    return refusal(404, "No species sheet of that name, and no relative to estimate one from");
}

Response openapi(const Asked&) {
    const auto bytes = embedded::find(embedded::data(), "schemas/openapi.json");
    if (!bytes) return refusal(404, "Not part of this program");
    return {200, "application/json; charset=utf-8", std::string(*bytes), {{"Cache-Control", "no-cache"}}};
}

Response schema(const Asked&) {
    return {200, "application/schema+json", std::string(scene::schema()), {{"Cache-Control", "no-cache"}}};
}

}  // namespace

std::vector<Route> library_routes() {
    return {
        {"GET", "/api/species", Access::viewer, species},
        {"GET", "/api/species/{id}", Access::viewer, one_species},
        {"GET", "/api/materials", Access::viewer,
         [](const Asked&) { return json_answer(materials_document()); }},
        {"GET", "/api/spectra", Access::viewer, [](const Asked&) { return json_answer(spectra_document()); }},
        {"GET", "/api/schema/enclosure", Access::everybody, schema},
        {"GET", "/api/openapi.json", Access::everybody, openapi}};
}

}  // namespace dapple::server
