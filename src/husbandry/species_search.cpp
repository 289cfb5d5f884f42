#include <algorithm>
#include <tuple>

#include "husbandry/names.h"
#include "husbandry/species.h"

namespace dapple::husbandry {

namespace {

using Words = std::vector<std::string>;

// How well a sheet answers; smaller is better. Kinds of match come first, then slips of the finger, then the
// letters of the name that were not asked for.
struct Match {
    enum class Kind { whole_name, beginning, all_words, with_slips, none };
    Kind kind = Kind::none;
    std::size_t slips = 0;
    std::size_t left_over = 0;

    friend bool operator<(const Match& a, const Match& b) {
        return std::tie(a.kind, a.slips, a.left_over) < std::tie(b.kind, b.slips, b.left_over);
    }
};

bool starts_with(const std::string& text, const std::string& start) {
    return text.rfind(start, 0) == 0;
}

// Every asked word begins some word of the name.
bool has_all_words(const Words& asked, const Words& name) {
    return std::all_of(asked.begin(), asked.end(), [&](const std::string& word) {
        return std::any_of(name.begin(), name.end(),
                           [&](const std::string& w) { return starts_with(w, word); });
    });
}

// Slips between two words, or one more than are forgiven: most pairs differ too much in length to be compared.
std::size_t slips_up_to_forgivable(std::string_view asked, std::string_view given) {
    const std::size_t forgiven = forgivable_slips(asked.size());
    const std::size_t longer = std::max(asked.size(), given.size());
    if (longer - std::min(asked.size(), given.size()) > forgiven) return forgiven + 1;
    return slips_between(asked, given);
}

// Slips over all asked words, each against its nearest word of the name; nothing when one is too far from all.
std::optional<std::size_t> slips_in_words(const Words& asked, const Words& name) {
    std::size_t sum = 0;
    for (const std::string& word : asked) {
        std::size_t least = word.size() + 1;
        for (const std::string& w : name) {
            least = std::min(least, slips_up_to_forgivable(word, w));
            if (w.size() > word.size() && word.size() >= 5) {  // a word not typed to its end
                least =
                    std::min(least, slips_up_to_forgivable(word, std::string_view(w).substr(0, word.size())));
            }
        }
        if (least > forgivable_slips(word.size())) return std::nullopt;
        sum += least;
    }
    return sum;
}

Match match(const Words& asked, const Words& name) {
    const std::string wanted = joined(asked, " ");
    const std::string given = joined(name, " ");
    const std::size_t left_over = given.size() > wanted.size() ? given.size() - wanted.size() : 0;
    if (wanted == given) return {Match::Kind::whole_name, 0, 0};
    if (starts_with(given, wanted)) return {Match::Kind::beginning, 0, left_over};
    if (has_all_words(asked, name)) return {Match::Kind::all_words, 0, left_over};
    if (const auto slips = slips_in_words(asked, name)) return {Match::Kind::with_slips, *slips, left_over};
    const std::string unspaced = joined(asked, "");  // "beardeddragon", "leo pard gecko"
    const std::size_t slips = slips_up_to_forgivable(unspaced, joined(name, ""));
    if (slips <= forgivable_slips(unspaced.size())) return {Match::Kind::with_slips, slips, left_over};
    return {};
}

// The words of a sheet, made once.
struct Entry {
    const Species* species;
    std::vector<Words> names;
    Words all;  // of all names, the family, the group and the habitat
};

Entry entry_of(const Species& species) {
    Entry entry = {&species, {}, {}};
    const auto add = [&](const std::string& text) {
        Words words = words_of(text);
        entry.all.insert(entry.all.end(), words.begin(), words.end());
        return words;
    };
    entry.names.push_back(add(species.scientific_name));
    entry.names.push_back(words_of(species.id));
    for (const std::string& name : species.common_names) entry.names.push_back(add(name));
    for (const std::string& name : species.synonyms) entry.names.push_back(add(name));
    for (const std::string& kind : {species.family, species.group, species.habitat}) add(kind);
    return entry;
}

const std::vector<Entry>& entries() {
    static const std::vector<Entry> all = [] {
        std::vector<Entry> made;
        for (const Species& species : species_library()) made.push_back(entry_of(species));
        return made;
    }();
    return all;
}

Match match(const Words& asked, const Entry& entry) {
    Match best;
    for (const Words& name : entry.names) best = std::min(best, match(asked, name));
    if (best.kind > Match::Kind::all_words && has_all_words(asked, entry.all)) {
        best = {Match::Kind::all_words, 0, joined(entry.all, " ").size()};
    }
    return best;
}

using Matches = std::vector<std::pair<Match, const Species*>>;

Matches matches_of(const Words& asked) {
    Matches matches;
    for (const Entry& entry : entries()) {
        const Match m = match(asked, entry);
        if (m.kind != Match::Kind::none) matches.emplace_back(m, entry.species);
    }
    std::stable_sort(matches.begin(), matches.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    return matches;
}

bool looks_scientific(const Words& words) {
    const auto is_plain = [](const std::string& word) {
        return word.size() >= 3 &&
               std::all_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; });
    };
    return (words.size() == 2 || words.size() == 3) && std::all_of(words.begin(), words.end(), is_plain);
}

}  // namespace

std::vector<Species> search_species(const std::string& text, std::size_t most) {
    const Words asked = words_of(text);
    const std::vector<Species>& library = species_library();
    if (asked.empty()) {
        const auto end = library.begin() + static_cast<std::ptrdiff_t>(std::min(most, library.size()));
        return {library.begin(), end};
    }
    std::vector<Species> found;
    Matches matches = matches_of(asked);
    if (matches.empty() && looks_scientific(asked)) {
        if (auto estimate = estimate_species(scientific_name_of(joined(asked, " ")))) {
            found.push_back(std::move(*estimate));
            matches = matches_of({asked.front()});  // and the relatives it was estimated from
        }
    }
    for (const auto& [m, species] : matches) {
        if (found.size() < most) found.push_back(*species);
    }
    if (found.size() > most) found.resize(most);
    return found;
}

}  // namespace dapple::husbandry
