// The search goes in two passes. A rough one walks every ray in steps with direct light only and few reach
// points; an exact one judges the best of each promising ray as `judge` would anyone's, and moves on by
// single centimetres where the light of walls changes the outcome.
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "advice/clearance.h"
#include "advice/fix.h"
#include "advice/ray.h"
#include "advice/standing.h"
#include "advice/words.h"

namespace dapple::advice {

using husbandry::Judgement;
using scene::Enclosure;

namespace {

constexpr double centimetre = 0.01;  // the finest a keeper moves anything
constexpr int rough_step = 4;        // cm

struct Candidate {
    Ray ray;
    int length_cm = 0;
    Standing standing;
};

// Better standing first, then the shorter way.
bool better(const Candidate& a, const Candidate& b) {
    if (!(a.standing == b.standing)) return a.standing < b.standing;
    return a.length_cm < b.length_cm;
}

class Search {
  public:
    Search(const Enclosure& enclosure, const FixOptions& options)
        : enclosure_(enclosure), options_(options), clearances_(enclosure, options), rough_(options.judge) {
        rough_.field.bounces = 0;
        rough_.reach = {0.08, 400};
    }

    std::optional<Candidate> best_on(const Ray& ray, const Standing& to_beat) const;
    std::optional<Fix> exact(const Candidate& candidate, const Judgement& before,
                             const Standing& to_beat) const;
    std::optional<Standing> rough_standing(const Enclosure& enclosure) const;

  private:
    std::optional<Enclosure> allowed(const Ray& ray, int length_cm) const;
    std::optional<Candidate> rough(const Ray& ray, int length_cm) const;
    std::optional<Fix> judged(const Candidate& candidate, const Judgement& before) const;

    const Enclosure& enclosure_;
    const FixOptions& options_;
    Clearances clearances_;
    husbandry::JudgeOptions rough_;
};

std::optional<Enclosure> Search::allowed(const Ray& ray, int length_cm) const {
    const Change change = ray.at(length_cm * centimetre);
    std::optional<Enclosure> after = changed(enclosure_, change);
    if (after && !clearances_.allow(*after, change)) return std::nullopt;
    return after;
}

std::optional<Standing> Search::rough_standing(const Enclosure& enclosure) const {
    const auto judgement = husbandry::judge(enclosure, rough_);
    if (!judgement) return std::nullopt;
    return standing_of(*judgement, enclosure);
}

std::optional<Candidate> Search::rough(const Ray& ray, int length_cm) const {
    const auto after = allowed(ray, length_cm);
    if (!after) return std::nullopt;
    const auto standing = rough_standing(*after);
    if (!standing) return std::nullopt;
    return Candidate{ray, length_cm, *standing};
}

std::optional<Candidate> Search::best_on(const Ray& ray, const Standing& to_beat) const {
    std::optional<Candidate> best;
    const auto consider = [&](int length_cm) {
        const auto candidate = rough(ray, length_cm);
        if (candidate && (!best || better(*candidate, *best))) best = candidate;
        return candidate.has_value();
    };
    if (!ray.has_length()) {
        consider(0);
    } else {
        // Whatever is moved along a ray is stopped by the first thing in its way.
        const int farthest = static_cast<int>(std::round(ray.farthest / centimetre));
        for (int length = rough_step; length <= farthest && consider(length); length += rough_step) {
        }
        const int around = best ? best->length_cm : rough_step;
        for (int length = std::max(1, around - rough_step + 1); length < around + rough_step; ++length) {
            if (length != around) consider(length);
        }
    }
    if (!best || !(best->standing < to_beat)) return std::nullopt;
    return best;
}

std::optional<Fix> Search::judged(const Candidate& candidate, const Judgement& before) const {
    auto after = allowed(candidate.ray, candidate.length_cm);
    if (!after) return std::nullopt;
    auto judgement = husbandry::judge(*after, options_.judge);
    if (!judgement) return std::nullopt;
    const std::vector<Change> changes = {candidate.ray.at(candidate.length_cm * centimetre)};
    return Fix{words_of(changes, enclosure_, before, *judgement),
               candidate.ray.effort + options_.effort.per_cm * candidate.length_cm,
               changes,
               std::move(*after),
               before,
               std::move(*judgement)};
}

// The candidate judged exactly; where light from the walls spoils or spares something, up to a rough step of
// single centimetres either way.
std::optional<Fix> Search::exact(const Candidate& candidate, const Judgement& before,
                                 const Standing& to_beat) const {
    std::optional<Fix> best = judged(candidate, before);
    if (!best) return std::nullopt;
    Standing standing = standing_of(best->after, enclosure_);
    for (const int way : {-1, 1}) {
        for (int length = candidate.length_cm + way; candidate.ray.has_length() && length > 0;
             length += way) {
            if (std::abs(length - candidate.length_cm) > rough_step || !(candidate.standing < standing))
                break;
            std::optional<Fix> next = judged({candidate.ray, length, {}}, before);
            if (!next) break;
            const Standing moved = standing_of(next->after, enclosure_);
            if (!(moved < standing)) break;
            best = std::move(next);
            standing = moved;
        }
    }
    if (!(standing < to_beat)) return std::nullopt;
    // Five per cent is less than a hand-held meter tells apart: no keeper gets up for that.
    constexpr double noticeable = 0.05;
    if (standing.failed == to_beat.failed && to_beat.distance - standing.distance < noticeable)
        return std::nullopt;
    // As many faults as before, and a new one among them: that is a trade, not a fix.
    const bool trade =
        standing.failed >= to_beat.failed && !worsened(before, best->after, enclosure_).empty();
    if (trade) return std::nullopt;
    return best;
}

// Those that make everything hold, cheapest first. Then, only where they are cheaper than all of those, what makes
// things better, best first; what makes something worse as well comes last.
void rank(std::vector<Fix>& fixes, const Enclosure& enclosure, std::size_t most) {
    const auto standing = [&](const Fix& fix) { return standing_of(fix.after, enclosure); };
    const auto spoils = [&](const Fix& fix) { return !worsened(fix.before, fix.after, enclosure).empty(); };
    double cheapest = std::numeric_limits<double>::infinity();
    for (const Fix& fix : fixes) {
        if (standing(fix).everything_holds()) cheapest = std::min(cheapest, fix.effort);
    }
    std::erase_if(
        fixes, [&](const Fix& fix) { return !standing(fix).everything_holds() && fix.effort >= cheapest; });
    std::stable_sort(fixes.begin(), fixes.end(), [&](const Fix& a, const Fix& b) {
        const Standing sa = standing(a);
        const Standing sb = standing(b);
        if (sa.everything_holds() != sb.everything_holds()) return sa.everything_holds();
        if (sa.everything_holds()) return a.effort < b.effort;
        if (spoils(a) != spoils(b)) return spoils(b);
        return sa < sb;
    });
    if (fixes.size() > most) fixes.erase(fixes.begin() + static_cast<std::ptrdiff_t>(most), fixes.end());
}

}  // namespace

Expected<std::vector<Fix>> find_fixes(const Enclosure& enclosure, const FixOptions& options) {
    const auto before = husbandry::judge(enclosure, options.judge);
    if (!before) return tl::unexpected<Problems>(before.error());
    const Standing standing = standing_of(*before, enclosure);
    if (standing.everything_holds()) return std::vector<Fix>{};

    const Search search(enclosure, options);
    const auto rough_before = search.rough_standing(enclosure);
    const std::vector<Ray> rays = rays_of(enclosure, options.effort);
    std::vector<std::optional<Candidate>> found(rays.size());
    tbb::parallel_for(std::size_t{0}, rays.size(), [&](std::size_t i) {
        found[i] = search.best_on(rays[i], rough_before.value_or(standing));
    });

    std::vector<Candidate> candidates;
    for (auto& candidate : found) {
        if (candidate) candidates.push_back(std::move(*candidate));
    }
    std::stable_sort(candidates.begin(), candidates.end(), better);
    if (candidates.size() > options.most) candidates.resize(options.most);

    std::vector<Fix> fixes;
    for (const Candidate& candidate : candidates) {
        if (auto fix = search.exact(candidate, *before, standing)) fixes.push_back(std::move(*fix));
    }
    rank(fixes, enclosure, options.most);
    return fixes;
}

}  // namespace dapple::advice
