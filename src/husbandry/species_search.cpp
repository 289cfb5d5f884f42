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

// Slips over all asked words, each against its nearest word of the name; nothing when one is too far from
// all.
std::optional<std::size_t> slips_in_words(const Words& asked, const Words& name) {
    std::size_t total = 0;
    for (const std::string& word : asked) {
        std::size_t least = word.size();
        for (const std::string& w : name) {
            const bool shares_beginning = w.size() > word.size() && word.size() >= 5;
            least = std::min(least, slips_between(word, w));
            if (shares_beginning) {  // a word not typed to its end
                least = std::min(least, slips_between(word, w.substr(0, word.size())));
            }
        }
        if (least > forgivable_slips(word.size())) return std::nullopt;
        total += least;
    }
    return total;
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
    const std::size_t slips = slips_between(unspaced, joined(name, ""));
    if (slips <= forgivable_slips(unspaced.size())) return {Match::Kind::with_slips, slips, left_over};
    return {};
}

Match match(const Words& asked, const Species& species) {
    Match best =
        std::min(match(asked, words_of(species.id)), match(asked, words_of(species.scientific_name)));
    Words all = words_of(species.scientific_name);
    const auto consider = [&](const std::string& name) {
        const Words words = words_of(name);
        best = std::min(best, match(asked, words));
        all.insert(all.end(), words.begin(), words.end());
    };
    for (const std::string& name : species.common_names) consider(name);
    for (const std::string& name : species.synonyms) consider(name);
    for (const std::string& name : {species.family, species.group, species.habitat}) {
        const Words words = words_of(name);
        all.insert(all.end(), words.begin(), words.end());
    }
    if (Match::Kind::all_words < best.kind && has_all_words(asked, all)) {
        const std::string names = joined(all, " ");
        best = {Match::Kind::all_words, 0, names.size()};
    }
    return best;
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
    std::vector<Species> found;
    if (asked.empty()) {
        for (std::size_t i = 0; i < std::min(most, library.size()); ++i) found.push_back(library[i]);
        return found;
    }
    std::vector<std::pair<Match, const Species*>> matches;
    for (const Species& species : library) {
        const Match m = match(asked, species);
        if (m.kind != Match::Kind::none) matches.emplace_back(m, &species);
    }
    if (matches.empty() && looks_scientific(asked)) {
        if (auto estimate = estimate_species(scientific_name_of(joined(asked, " ")))) {
            found.push_back(std::move(*estimate));
            for (const Species& species : library) {  // and the relatives it was estimated from
                const Match m = match({asked.front()}, species);
                if (m.kind != Match::Kind::none) matches.emplace_back(m, &species);
            }
        }
    }
    std::stable_sort(matches.begin(), matches.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [m, species] : matches) {
        if (found.size() >= most) break;
        found.push_back(*species);
    }
    if (found.size() > most) found.resize(most);
    return found;
}

}  // namespace dapple::husbandry
