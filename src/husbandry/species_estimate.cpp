// A sheet from relatives: a weighted consensus of the nearest listed species, with its spread told.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "husbandry/names.h"
#include "husbandry/species.h"

namespace dapple::husbandry {

namespace {

struct Relative {
    const Species* species;
    double weight;
};
using Relatives = std::vector<Relative>;

struct Kin {
    Relatives relatives;
    std::string who;  // "3 species of the genus Uromastyx (U. aegyptia, ...)"
};

bool same(const std::string& a, const std::string& b) {
    return !a.empty() && joined(words_of(a), " ") == joined(words_of(b), " ");
}

std::string genus_of(const std::string& scientific_name) {
    const auto words = words_of(scientific_name);
    return words.empty() ? "" : words.front();
}

bool is_of_genus(const Species& species, const std::string& genus) {
    return genus_of(species.scientific_name) == genus ||
           std::any_of(species.synonyms.begin(), species.synonyms.end(),
                       [&](const std::string& synonym) { return genus_of(synonym) == genus; });
}

// A relative that lives as the animal does counts double for each habit they share.
double weight_of(const Species& species, const Hints& hints) {
    return (same(species.habit, hints.habit) ? 2.0 : 1.0) *
           (same(species.activity, hints.activity) ? 2.0 : 1.0);
}

std::string named(const Relatives& relatives) {
    constexpr std::size_t most = 6;
    std::vector<std::string> names;
    for (const Relative& r : relatives) {
        if (names.size() < most) names.push_back(r.species->scientific_name);
    }
    std::string text = fmt::format("{}", fmt::join(names, ", "));
    if (relatives.size() > most) text += fmt::format(" and {} more", relatives.size() - most);
    return text;
}

Kin kin_where(const std::string& shared, const Hints& hints,
              const std::function<bool(const Species&)>& is_kin) {
    Kin kin;
    for (const Species& species : species_library()) {
        if (is_kin(species)) kin.relatives.push_back({&species, weight_of(species, hints)});
    }
    kin.who = fmt::format("estimated by us from {} listed species of {} ({})", kin.relatives.size(), shared,
                          named(kin.relatives));
    return kin;
}

Kin nearest_kin(const std::string& scientific_name, const Hints& hints) {
    const std::string genus = genus_of(scientific_name);
    Kin kin = kin_where("the same genus", hints, [&](const Species& s) { return is_of_genus(s, genus); });
    if (kin.relatives.empty() && !hints.family.empty()) {
        kin = kin_where("the family " + hints.family, hints,
                        [&](const Species& s) { return same(s.family, hints.family); });
    }
    if (kin.relatives.empty() && !hints.habit.empty()) {
        kin = kin_where("the same habits", hints, [&](const Species& s) {
            return same(s.habit, hints.habit) && (hints.activity.empty() || same(s.activity, hints.activity));
        });
    }
    return kin;
}

// Weighted mean and standard deviation of a number that some relatives have.
struct Spread {
    double mean = 0;
    double deviation = 0;
    double weight = 0;  // 0: no relative has it
};

Spread spread_of(const Relatives& relatives,
                 const std::function<std::optional<double>(const Species&)>& number) {
    Spread s;
    double squares = 0;
    for (const Relative& r : relatives) {
        const auto value = number(*r.species);
        if (!value) continue;
        const double step =
            *value - s.mean;  // West 1979, Communications of the ACM 22:532, for weighted data
        s.weight += r.weight;
        s.mean += step * r.weight / s.weight;
        squares += r.weight * step * (*value - s.mean);
    }
    if (s.weight > 0) s.deviation = std::sqrt(squares / s.weight);
    return s;
}

// The word most relatives use, by weight; of equals the first in the alphabet.
std::string commonest(const Relatives& relatives, std::string Species::*field) {
    std::map<std::string, double> votes;
    for (const Relative& r : relatives) votes[r.species->*field] += r.weight;
    const auto best = std::max_element(votes.begin(), votes.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return best == votes.end() ? "" : best->first;
}

std::optional<double> middle_zone(const Species& s) {
    if (s.zones.empty()) return std::nullopt;
    return 0.5 * (s.zones.front() + s.zones.back());
}

// The zone at the relatives' mean, or the two it lies between: a mean within a quarter of a zone, agreed on
// by the relatives, is that zone.
std::vector<int> zones_about(const Spread& zone) {
    const int below = static_cast<int>(std::floor(zone.mean));
    const double beyond = zone.mean - below;
    const bool scattered = zone.deviation > 0.5;
    if (beyond < 0.25 && !scattered) return {below};
    if (beyond > 0.75 && !scattered) return {below + 1};
    const int first = beyond == 0 && below == 4 ? 3 : below;
    return {first, first + 1};
}

std::string zone_reason(const Spread& zone) {
    return fmt::format("; mean zone {:.1f}, standard deviation {:.1f}", zone.mean, zone.deviation);
}

}  // namespace

std::optional<Species> estimate_species(const std::string& scientific_name, const Hints& hints) {
    const Kin kin = nearest_kin(scientific_name, hints);
    if (kin.relatives.empty()) return std::nullopt;
    const Relatives& relatives = kin.relatives;

    Species s;
    s.estimate = true;
    s.id = joined(words_of(scientific_name), "_");
    s.scientific_name = scientific_name;
    const auto from_kin = [&](const std::string& field, const std::string& more = "") {
        s.sources[field] = {kin.who + more, "low"};
    };
    const auto consensus = [&](const std::string& field, std::string Species::*member) {
        s.*member = commonest(relatives, member);
        from_kin(field);
    };
    const auto hinted = [&](const std::string& field, std::string Species::*member, const std::string& hint) {
        consensus(field, member);
        if (hint.empty()) return;
        s.*member = hint;
        s.sources[field] = {"given by the keeper", "medium"};
    };
    const auto range = [&](const std::string& field, std::optional<Range> Species::*member) {
        const auto end = [&](double Range::*which) {
            return spread_of(relatives, [&](const Species& r) {
                return r.*member ? std::optional((*(r.*member)).*which) : std::nullopt;
            });
        };
        const Spread low = end(&Range::first);
        const Spread high = end(&Range::second);
        if (low.weight == 0) return;
        s.*member = Range{std::round(low.mean), std::round(high.mean)};
        from_kin(field,
                 fmt::format("; standard deviation {:.1f} degrees", std::max(low.deviation, high.deviation)));
    };

    s.group = commonest(relatives, &Species::group);
    hinted("family", &Species::family, hints.family);
    hinted("habit", &Species::habit, hints.habit);
    hinted("activity", &Species::activity, hints.activity);
    consensus("habitat", &Species::habitat);
    consensus("photoperiod", &Species::photoperiod);

    const Spread zone = spread_of(relatives, middle_zone);
    if (zone.weight > 0) {
        s.zones = zones_about(zone);
        from_kin("zones", zone_reason(zone));
    }
    const Spread height =
        spread_of(relatives, [](const Species& r) {  // sizes differ by factors: the mean of logs
            return r.back_height > 0 ? std::optional(std::log(r.back_height)) : std::nullopt;
        });
    if (height.weight > 0) {
        s.back_height = std::round(std::exp(height.mean) * 200) / 200;
        s.back_height = std::max(s.back_height, 0.005);
        from_kin("back_height_cm",
                 fmt::format("; they differ by a factor of {:.1f}", std::exp(height.deviation)));
    }
    const Spread climbs = spread_of(relatives, [](const Species& r) { return r.climbs ? 1.0 : 0.0; });
    s.climbs = climbs.mean >= 0.5;
    from_kin("climbs", fmt::format("; {:.0f} % of them climb", 100 * climbs.mean));
    range("basking_surface_c", &Species::basking_surface_c);
    range("air_warm_c", &Species::air_warm_c);
    range("air_cool_c", &Species::air_cool_c);
    range("night_c", &Species::night_c);
    s.note =
        "An estimate, not a listed species: " + kin.who + ". Check it against the animal's natural history.";
    return s;
}

}  // namespace dapple::husbandry
