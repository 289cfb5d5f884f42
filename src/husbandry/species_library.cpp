#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "husbandry/names.h"
#include "husbandry/species_sheet.h"

namespace dapple::husbandry {

namespace {

using nlohmann::json;

struct Read {
    std::vector<Species> sheets;
    Problems problems;
};

void append(Problems& to, const Problems& more) {
    to.insert(to.end(), more.begin(), more.end());
}

void read_file(const std::string& file, std::string_view text, Read& into) {
    const json document = json::parse(text, nullptr, false);
    if (!document.is_object() || document.value("format", json()) != "dapple/species@1" ||
        !document.value("species", json()).is_array() || !document.value("sources", json()).is_object()) {
        into.problems.push_back(
            {file, "", "no species file", "format dapple/species@1 with species and sources"});
        return;
    }
    Citations citations;
    for (const auto& [key, citation] : document["sources"].items()) {
        if (citation.is_string()) citations[key] = citation.get<std::string>();
    }
    const json group = document.value("group", json());
    const json& sheets = document["species"];
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        Expected<Species> sheet =
            read_sheet(sheets[i], file, "/species/" + std::to_string(i), citations, true);
        if (!sheet) {
            append(into.problems, sheet.error());
            continue;
        }
        if (group.is_string()) sheet->group = group.get<std::string>();
        into.sheets.push_back(std::move(*sheet));
    }
}

bool ends_with(std::string_view text, std::string_view end) {
    return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

bool is_synonym_of(const Species& species, const std::string& id) {
    return std::any_of(species.synonyms.begin(), species.synonyms.end(),
                       [&](const std::string& synonym) { return joined(words_of(synonym), "_") == id; });
}

}  // namespace

Expected<std::vector<Species>> read_library(const std::vector<embedded::File>& files) {
    Read read;
    for (const embedded::File& file : files) {
        if (file.path.substr(0, 8) != "species/" || !ends_with(file.path, ".json")) continue;
        read_file(std::string(file.path), file.bytes, read);
    }
    std::set<std::string> ids;
    for (const Species& s : read.sheets) {
        if (!ids.insert(s.id).second)
            read.problems.push_back({"species", s.id, "the id twice", "each id once"});
    }
    if (!read.problems.empty()) return tl::unexpected(read.problems);
    std::sort(read.sheets.begin(), read.sheets.end(),
              [](const Species& a, const Species& b) { return a.scientific_name < b.scientific_name; });
    return std::move(read.sheets);
}

const std::vector<Species>& species_library() {
    static const std::vector<Species> library = [] {
        Expected<std::vector<Species>> sheets = read_library(embedded::data());
        if (!sheets)
            throw std::logic_error("the shipped species library is damaged:\n" + to_text(sheets.error()));
        return std::move(*sheets);
    }();
    return library;
}

const Species* find_species(std::string_view id) {
    const std::vector<Species>& library = species_library();
    const auto at_id =
        std::find_if(library.begin(), library.end(), [&](const Species& s) { return s.id == id; });
    if (at_id != library.end()) return &*at_id;
    const std::string older = joined(words_of(id), "_");
    const auto at_synonym = std::find_if(library.begin(), library.end(),
                                         [&](const Species& s) { return is_synonym_of(s, older); });
    return at_synonym == library.end() ? nullptr : &*at_synonym;
}

}  // namespace dapple::husbandry
