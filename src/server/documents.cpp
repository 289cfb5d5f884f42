#include "server/documents.h"

#include <nlohmann/json.hpp>

#include "embedded/files.h"
#include "inference/fit_judge.h"
#include "record/last_round.h"
#include "record/writing.h"

namespace dapple::server {

std::optional<std::string> shipped_file(const std::string& name) {
    const auto bytes = embedded::find(embedded::examples(), name);
    if (!bytes) return std::nullopt;
    return std::string(*bytes);
}

scene::ReadOptions reading_of(const record::Store& store, const std::string& site, const std::string& name) {
    scene::ReadOptions options;
    options.file = name;
    options.read_file = record::file_reader(store, site);
    return options;
}

Expected<scene::Enclosure> parse_kept(const record::Store& store, const record::Thing& enclosure) {
    return scene::parse_enclosure(enclosure.fields.at("document").dump(),
                                  reading_of(store, enclosure.site, enclosure.id));
}

Expected<std::optional<inference::Fit>> recorded_fit(const record::Store& store,
                                                     const scene::Enclosure& enclosure,
                                                     const std::string& id) {
    using Found = std::optional<inference::Fit>;
    const auto round = record::last_round(store, id);
    if (!round) return tl::unexpected(round.error().problems);
    if (!*round) return Found();
    return Found(record::fitted(**round, enclosure));
}

Expected<husbandry::Judgement> judged_by_record(const record::Store& store, const scene::Enclosure& enclosure,
                                                const std::string& id) {
    const auto round = record::last_round(store, id);
    if (!round) return tl::unexpected(round.error().problems);
    if (!*round) return husbandry::judge(enclosure);
    auto judgement = inference::judge_fitted(record::fitted(**round, enclosure));
    if (judgement)
        judgement->notes.insert(judgement->notes.begin(), "By the readings of " + (*round)->day + ".");
    return judgement;
}

}  // namespace dapple::server
