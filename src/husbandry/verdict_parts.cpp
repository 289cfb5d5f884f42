#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "husbandry/judging.h"
#include "husbandry/share.h"
#include "husbandry/words.h"

namespace dapple::husbandry {

namespace {

const Part unknown_band = {std::nullopt, std::nullopt,
                           "The animal's UV zone is not known, so there is no band to hold to."};
const Part no_reach = {std::nullopt, std::nullopt, "The animal finds no place to stand."};

std::string band_in_words(const Band& band) {
    return fmt::format("{}-{}", uvi_in_words(band.low), uvi_in_words(band.high));
}

std::string state_in_words(double uvi, const Band& band) {
    const std::string limits = band_in_words(band);
    switch (state_of(uvi, band)) {
        case State::below:
            return "below the band " + limits;
        case State::low:
            return "in the low end of " + limits;
        case State::in:
            return "well inside " + limits;
        case State::high:
            return "in the high end of " + limits;
        case State::above:
            break;
    }
    if (uvi <= band.ceiling) {
        return fmt::format("above the band {}, though not above the ceiling {}", limits,
                           uvi_in_words(band.ceiling));
    }
    return "above the band " + limits;
}

// Between the cool tenth of the reach and its warmest place, for a lamp to count as warming: as much as 50 W/m2 (the
// options' least_warmth) give a dull surface. Our judgement.
constexpr double least_warming_k = 3;

std::string name_of(const scene::Place& spot) {
    return spot.name.empty() ? spot.id : spot.name;
}

std::string percent(double share) {
    if (share > 0 && share < 0.01) return "less than 1 %";
    if (share < 1 && share > 0.99) return "more than 99 %";
    return fmt::format("{:.0f} %", 100 * share);
}

std::size_t index_of_greatest(const std::vector<double>& values) {
    return static_cast<std::size_t>(std::max_element(values.begin(), values.end()) - values.begin());
}

std::size_t index_of_least(const std::vector<double>& values) {
    return static_cast<std::size_t>(std::min_element(values.begin(), values.end()) - values.begin());
}

const std::vector<double>& warmth_of(const LitReach& lit) {
    return lit.surface_c.empty() ? lit.warmth : lit.surface_c;
}

}  // namespace

ReachProfile shares_of(const LitReach& lit, const std::optional<Band>& band, const JudgeOptions& options) {
    ReachProfile profile;
    const std::vector<double>& area = lit.reach.area;
    profile.area = total(area);
    if (lit.uvi.empty()) return profile;
    profile.share_in_shade = share_where(lit.uvi, area, [&](double uvi) { return uvi <= options.shade_uvi; });
    if (band) {
        profile.share_in_band =
            share_where(lit.uvi, area, [&](double uvi) { return uvi >= band->low && uvi <= band->high; });
    }
    return profile;
}

ReachProfile profile_of(const LitReach& lit, const std::optional<Band>& band, const JudgeOptions& options) {
    ReachProfile profile = shares_of(lit, band, options);
    if (lit.uvi.empty()) return profile;
    for (const double share : {0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0}) {
        profile.quantiles[share] = quantile(lit.uvi, lit.reach.area, share);
    }
    return profile;
}

Part judge_basking(const std::vector<LitSpot>& spots, const std::optional<Band>& band,
                   const ReachProfile& profile) {
    if (!band) return unknown_band;
    Part part;
    bool all_in_band = true;
    for (const LitSpot& spot : spots) {
        if (spot.place->role != scene::Role::bask) continue;
        const State state = state_of(spot.uvi, *band);
        all_in_band = all_in_band && state != State::below && state != State::above;
        part.holds = all_in_band;
        if (!part.why.empty()) part.why += " ";
        part.why += fmt::format("{} reads {} UVI, {}.", name_of(*spot.place), uvi_in_words(spot.uvi),
                                state_in_words(spot.uvi, *band));
    }
    if (!part.holds) {
        part.why = fmt::format("No bask spot is named; {} of the reach lies in the band {}.",
                               percent(profile.share_in_band), band_in_words(*band));
    }
    return part;
}

Part judge_retreat(const std::vector<LitSpot>& spots, const std::optional<Band>& band, const LitReach& lit,
                   const ReachProfile& profile, const JudgeOptions& options) {
    std::string darkest;
    double least = 0;
    if (!lit.uvi.empty()) {
        const std::size_t i = index_of_least(lit.uvi);
        least = lit.uvi[i];
        darkest = "the darkest place";
    }
    for (const LitSpot& spot : spots) {
        if (spot.place->role != scene::Role::retreat || (!darkest.empty() && spot.uvi > least)) continue;
        least = spot.uvi;
        darkest = name_of(*spot.place);
    }
    if (darkest.empty()) return no_reach;

    const bool has_retreat = least <= options.retreat_uvi;
    const bool needs_shade = band && band->low > options.shade_uvi && !lit.uvi.empty();
    const bool has_shade = !needs_shade || profile.share_in_shade >= options.shade_share;
    Part part;
    part.holds = has_retreat && has_shade;
    part.why = fmt::format("{} reads {} UVI; a retreat has at most {}.",
                           darkest == "the darkest place" ? "The darkest place in reach" : darkest,
                           uvi_in_words(least), uvi_in_words(options.retreat_uvi));
    if (needs_shade) {
        part.why += fmt::format(" {} of the reach is shade (at most {} UVI); at least {} is wanted.",
                                percent(profile.share_in_shade), uvi_in_words(options.shade_uvi),
                                percent(options.shade_share));
    }
    return part;
}

Part judge_ceiling(const scene::Enclosure& enclosure, const std::vector<LitSpot>& spots,
                   const std::optional<Band>& band, const LitReach& lit) {
    if (!band) return unknown_band;
    std::string where;
    double most = 0;
    if (!lit.uvi.empty()) {
        const std::size_t i = index_of_greatest(lit.uvi);
        most = lit.uvi[i];
        where = place_in_words(enclosure, lit.reach, i);
    }
    for (const LitSpot& spot : spots) {
        if (!where.empty() && spot.uvi <= most) continue;
        most = spot.uvi;
        where = "at " + name_of(*spot.place);
    }
    if (where.empty()) return no_reach;
    Part part;
    part.holds = most <= band->ceiling;
    part.why = *part.holds ? fmt::format("The highest in reach is {} UVI, {}; the ceiling is {}.",
                                         uvi_in_words(most), where, uvi_in_words(band->ceiling))
                           : fmt::format("The animal can reach {} UVI, {}; that is above the ceiling {}.",
                                         uvi_in_words(most), where, uvi_in_words(band->ceiling));
    return part;
}

Part judge_gradient(const std::optional<Band>& band, const LitReach& lit, const JudgeOptions& options) {
    if (!band) return unknown_band;
    if (lit.uvi.empty()) return no_reach;
    if (band->low <= options.retreat_uvi) {
        return {std::nullopt, std::nullopt,
                "The band begins in the dark: there is no way to go from retreat to band."};
    }
    const double decades = std::log10(band->low / options.retreat_uvi);
    const int steps = std::max(1, static_cast<int>(std::ceil(decades * options.steps_per_decade)));
    std::vector<double> edges;
    for (int i = 0; i <= steps; ++i) {
        edges.push_back(options.retreat_uvi *
                        std::pow(band->low / options.retreat_uvi, static_cast<double>(i) / steps));
    }
    const std::vector<double> shares = shares_between(lit.uvi, lit.reach.area, edges);
    double hole_from = 0;
    double hole_to = 0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        if (shares[i] >= options.step_share) continue;
        if (hole_to == 0) hole_from = edges[i];
        if (hole_to == 0 || hole_to == edges[i]) hole_to = edges[i + 1];
    }
    const std::string way = fmt::format("the retreat ({}) and the band ({})",
                                        uvi_in_words(options.retreat_uvi), uvi_in_words(band->low));
    if (hole_to == 0) {
        return {true, std::nullopt,
                fmt::format("Every step between {} offers at least {:.1f} % of the reach.", way,
                            100 * options.step_share)};
    }
    return {false, std::nullopt,
            fmt::format("Between {} there is a hole: next to no place reads from {} to {} UVI.", way,
                        uvi_in_words(hole_from), uvi_in_words(hole_to))};
}

WarmPlaces warm_of(const LitReach& lit, const JudgeOptions& options) {
    const std::vector<double>& warmth = warmth_of(lit);
    return {index_of_greatest(warmth), quantile(warmth, lit.reach.area, options.tenth),
            quantile(warmth, lit.reach.area, 1 - options.tenth)};
}

Part judge_together(const scene::Enclosure& enclosure, const LitReach& lit, const JudgeOptions& options) {
    if (lit.uvi.empty()) return no_reach;
    const bool by_surface = !lit.surface_c.empty();
    const std::vector<double>& warmth = warmth_of(lit);
    const std::size_t brightest = index_of_greatest(lit.uvi);
    const auto [warmest, cool, much_warmth] = lit.warm ? *lit.warm : warm_of(lit, options);
    if (by_surface && warmth[warmest] - cool < least_warming_k) {
        return {std::nullopt, std::nullopt,
                fmt::format("No lamp warms: from the cool to the warmest place it is {:.1f} K.",
                            warmth[warmest] - cool)};
    }
    if (!by_surface && warmth[warmest] < options.least_warmth) {
        return {std::nullopt, std::nullopt,
                fmt::format("No lamp warms: the warmest place receives {:.0f} W/m2.", warmth[warmest])};
    }
    if (lit.uvi[brightest] <= options.retreat_uvi) {
        return {
            std::nullopt, std::nullopt,
            fmt::format("There is next to no UV in reach (at most {}).", uvi_in_words(lit.uvi[brightest]))};
    }
    const std::vector<double>& area = lit.reach.area;
    const double much_uv = quantile(lit.uvi, area, 1 - options.tenth);
    double with_uv = 0;
    double with_warmth = 0;
    double with_both = 0;
    for (std::size_t i = 0; i < area.size(); ++i) {
        const bool uv = lit.uvi[i] >= much_uv;
        const bool warm = warmth[i] >= much_warmth;
        with_uv += uv ? area[i] : 0;
        with_warmth += warm ? area[i] : 0;
        with_both += uv && warm ? area[i] : 0;
    }
    const double overlap = with_both / std::min(with_uv, with_warmth);
    Part part;
    part.holds = overlap >= options.overlap;
    const std::string at_warmest = by_surface ? fmt::format("about {:.0f} C, {} UVI there", warmth[warmest],
                                                            uvi_in_words(lit.uvi[warmest]))
                                              : fmt::format("{} UVI there", uvi_in_words(lit.uvi[warmest]));
    part.why = fmt::format(
        "{} of the warmest tenth of the reach is also in its brightest tenth; at least {} is wanted. The "
        "most UV is {} "
        "({} UVI), the most warmth {} ({}).",
        percent(overlap), percent(options.overlap), place_in_words(enclosure, lit.reach, brightest),
        uvi_in_words(lit.uvi[brightest]), place_in_words(enclosure, lit.reach, warmest), at_warmest);
    return part;
}

Part judge_overall(const Verdict& parts) {
    const std::vector<std::pair<const char*, const Part*>> named = {{"basking", &parts.basking},
                                                                    {"retreat", &parts.retreat},
                                                                    {"ceiling", &parts.ceiling},
                                                                    {"gradient", &parts.gradient},
                                                                    {"together", &parts.together}};
    std::vector<std::string> failing;
    std::vector<std::string> unjudged;
    for (const auto& [name, part] : named) {
        if (!part->holds) unjudged.emplace_back(name);
        if (part->holds && !*part->holds) failing.emplace_back(name);
    }
    if (!failing.empty()) {
        return {false, std::nullopt, fmt::format("Does not hold: {}.", fmt::join(failing, ", "))};
    }
    if (unjudged.size() == named.size())
        return {std::nullopt, std::nullopt, "There is nothing to judge from."};
    if (unjudged.empty()) return {true, std::nullopt, "Every part holds."};
    return {true, std::nullopt,
            fmt::format("Every part that can be judged holds; not judged: {}.", fmt::join(unjudged, ", "))};
}

}  // namespace dapple::husbandry
