#include "server/collection.h"

#include <nlohmann/json.hpp>

#include "husbandry/verdict.h"

namespace dapple::server {

using nlohmann::json;

scene::ReadOptions reading(const std::string& file) {
    scene::ReadOptions options;
    options.file = file;
    options.read_file = [](const std::string& name) -> std::optional<std::string> {
        const auto bytes = embedded::find(embedded::examples(), name);
        if (!bytes) return std::nullopt;
        return std::string(*bytes);
    };
    return options;
}

std::vector<Kept> read_collection(const std::vector<embedded::File>& files, Problems& problems) {
    std::vector<Kept> result;
    for (const embedded::File& file : files) {
        if (!file.path.ends_with(".json")) continue;
        const auto enclosure = scene::parse_enclosure(file.bytes, reading(std::string(file.path)));
        if (enclosure) {
            result.push_back({enclosure->id, enclosure->source});
        } else {
            problems.insert(problems.end(), enclosure.error().begin(), enclosure.error().end());
        }
    }
    return result;
}

json summary(const Kept& kept) {
    const json document = json::parse(kept.document);
    json result = {{"id", kept.id},
                   {"name", document.value("name", kept.id)},
                   {"size_cm", document["size_cm"]},
                   {"animals", document.value("animals", json::array())},
                   {"judgement", nullptr}};
    const auto enclosure = scene::parse_enclosure(kept.document, reading(kept.id));
    if (!enclosure) return result;
    const auto judgement = husbandry::judge(*enclosure);
    if (judgement) {
        result["judgement"] = husbandry::to_json(*judgement);
    } else {
        result["problems"] = json::array();
        for (const Problem& p : judgement.error()) result["problems"].push_back(p.message());
    }
    return result;
}

}  // namespace dapple::server
