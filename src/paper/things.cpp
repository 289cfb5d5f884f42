#include "paper/things.h"

#include <fmt/format.h>

#include <algorithm>

namespace dapple::paper {

using record::Result;
using record::Thing;

namespace {

std::string in_words(std::string word) {
    std::replace(word.begin(), word.end(), '_', ' ');
    return word;
}

}  // namespace

Result<std::vector<Thing>> all_things(const record::Store& store, record::Query query) {
    query.limit = 10'000;
    std::vector<Thing> all;
    for (;;) {
        auto page = store.list(query);
        if (!page) return tl::unexpected(page.error());
        for (Thing& thing : page->things) all.push_back(std::move(thing));
        if (page->next.empty()) return all;
        query.after = page->next;
    }
}

Result<std::vector<Thing>> things_at(const record::Store& store, const std::string& kind,
                                     const std::vector<std::string>& sites) {
    record::Query query;
    query.kind = kind;
    query.sites = sites;
    return all_things(store, query);
}

Result<std::vector<std::string>> sites_or_all(const record::Store& store,
                                              const std::vector<std::string>& sites) {
    if (sites.empty()) {
        record::Query query;
        query.kind = "site";
        const auto all = all_things(store, query);
        if (!all) return tl::unexpected(all.error());
        std::vector<std::string> ids;
        for (const Thing& site : *all) ids.push_back(site.id);
        return ids;
    }
    for (const std::string& id : sites) {
        const auto site = store.find("site", id);
        if (!site) return tl::unexpected(site.error());
    }
    return sites;
}

Result<std::vector<Thing>> chosen_enclosures(const record::Store& store,
                                             const std::vector<std::string>& sites,
                                             const std::vector<std::string>& ids) {
    auto all = things_at(store, "enclosure", sites);
    if (!all || ids.empty()) return all;
    std::vector<std::string> known;
    for (const Thing& one : *all) known.push_back(one.id);
    std::vector<Thing> chosen;
    for (const std::string& id : ids) {
        const auto found = std::find(known.begin(), known.end(), id);
        if (found == known.end()) {
            const std::string near = nearest(id, known);
            return record::refuse_as(
                record::Trouble::missing,
                {"", "enclosure", "\"" + id + "\"",
                 near.empty() ? "the id of an enclosure in use"
                              : "the id of an enclosure in use; did you mean " + near + "?"});
        }
        chosen.push_back((*all)[static_cast<std::size_t>(found - known.begin())]);
    }
    return chosen;
}

std::string field(const Thing& thing, const char* name) {
    return thing.fields.value(name, std::string());
}

std::string name_of_enclosure(const Thing& enclosure) {
    return enclosure.fields["document"].value("name", enclosure.id);
}

std::string what_lamp_is(const Thing& lamp) {
    if (!field(lamp, "model").empty()) return field(lamp, "model");
    std::string words = in_words(field(lamp, "lamp_kind"));
    if (words.empty()) words = "lamp";
    if (!field(lamp, "spectrum").empty()) words += ", " + in_words(field(lamp, "spectrum"));
    if (lamp.fields.contains("power_w"))
        words += fmt::format(", {:g} W", lamp.fields["power_w"].get<double>());
    return words;
}

}  // namespace dapple::paper
