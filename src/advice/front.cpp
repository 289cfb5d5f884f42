#include "advice/front.h"

#include <algorithm>
#include <limits>

#include "advice/standing.h"

namespace dapple::advice {

namespace {

bool cures(const Fix& fix) {
    return fix.remaining.empty() && fix.worsened.empty();
}

// Nothing else, doing nothing included, is as cheap and as probable; of equals the first stands for all.
void mark_front(std::vector<Fix>& fixes) {
    for (std::size_t i = 0; i < fixes.size(); ++i) {
        Fix& fix = fixes[i];
        fix.on_front = fix.probability > probability_of(fix.before);
        for (std::size_t j = 0; j < fixes.size(); ++j) {
            const Fix& other = fixes[j];
            const bool as_good = other.effort <= fix.effort && other.probability >= fix.probability;
            const bool better = other.effort < fix.effort || other.probability > fix.probability;
            if (as_good && (better || j < i)) fix.on_front = false;
        }
    }
}

bool contains(const Fix& larger, const Fix& smaller) {
    return smaller.changes.size() < larger.changes.size() &&
           std::all_of(smaller.changes.begin(), smaller.changes.end(), [&](const Change& wanted) {
               return std::any_of(larger.changes.begin(), larger.changes.end(), [&](const Change& has) {
                   return has.kind == wanted.kind && has.id == wanted.id && has.other == wanted.other;
               });
           });
}

}  // namespace

double probability_of(const husbandry::Judgement& judgement) {
    double least = 1;
    for (const auto& animal : judgement.animals) {
        const husbandry::Part& overall = animal.verdict.overall;
        const double certain = overall.holds == false ? 0.0 : 1.0;
        least = std::min(least, overall.probability.value_or(certain));
    }
    return least;
}

std::vector<Fix> ranked(std::vector<Fix> fixes, const scene::Enclosure& enclosure, std::size_t most) {
    double cheapest = std::numeric_limits<double>::infinity();
    for (const Fix& fix : fixes) {
        if (cures(fix)) cheapest = std::min(cheapest, fix.effort);
    }
    std::erase_if(fixes, [&](const Fix& fix) { return !cures(fix) && fix.effort >= cheapest; });
    const auto standing = [&](const Fix& fix) { return standing_of(fix.after, enclosure); };
    std::vector<bool> needless;
    for (const Fix& fix : fixes) {
        needless.push_back(std::any_of(fixes.begin(), fixes.end(), [&](const Fix& other) {
            const bool half = contains(fix, other) && other.remaining.size() <= fix.remaining.size() &&
                              other.probability >= fix.probability;
            const bool less_for_more = !cures(fix) && other.effort < fix.effort &&
                                       other.worsened.size() <= fix.worsened.size() &&
                                       standing(other) < standing(fix);
            return half || less_for_more;
        }));
    }
    std::vector<Fix> kept;
    for (std::size_t i = 0; i < fixes.size(); ++i) {
        if (!needless[i]) kept.push_back(std::move(fixes[i]));
    }
    std::stable_sort(kept.begin(), kept.end(), [&](const Fix& a, const Fix& b) {
        if (cures(a) != cures(b)) return cures(a);
        if (cures(a)) return a.effort < b.effort;
        if (a.worsened.empty() != b.worsened.empty()) return a.worsened.empty();
        return standing(a) < standing(b);
    });
    if (kept.size() > most) kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(most), kept.end());
    mark_front(kept);
    return kept;
}

}  // namespace dapple::advice
