// The search goes in three passes: glances at every single change, at pairs where no single one is enough, and full
// judgements of the promising ones, as `check` would judge their documents. Where a judgement differs from the glance,
// the same way is gone once more with the difference taken into account.
#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <limits>
#include <map>
#include <memory>

#include "advice/carried_fit.h"
#include "advice/fix.h"
#include "advice/front.h"
#include "advice/scan.h"
#include "advice/standing.h"
#include "advice/warmed.h"
#include "advice/words.h"
#include "husbandry/judging.h"
#include "inference/fit_judge.h"

namespace dapple::advice {

using husbandry::Judgement;
using scene::Enclosure;

namespace {

using Judge = std::function<Expected<Judgement>(const Enclosure&, const std::vector<Change>&)>;

struct Question {
    const Enclosure& enclosure;
    const Judgement& before;
    const Judge& judge;
    const FixOptions& options;
};

// The candidates that are worth a judgement in full: of every thing no more than two, of what can be bought no more
// than two of a sort.
std::vector<Candidate> varied(const std::vector<Candidate>& candidates) {
    constexpr int of_a_sort = 2;
    std::map<std::string, int> seen;
    std::vector<Candidate> kept;
    for (const Candidate& candidate : candidates) {
        std::string sort;
        for (const Change& change : candidate.changes) {
            const bool bought =
                change.kind == Change::Kind::replace_lamp || change.kind == Change::Kind::add_lamp;
            sort += std::string(name(change.kind)) + " " + (bought ? "" : change.id) + ";";
        }
        if (++seen[sort] <= of_a_sort) kept.push_back(candidate);
    }
    return kept;
}

bool is_stopped(const FixOptions& options) {
    return options.stopped && options.stopped();
}

class Judging {
  public:
    Judging(const Question& question, const Glance& glance, Scan& scan)
        : question_(question),
          glance_(glance),
          scan_(scan),
          standing_(standing_of(question.before, question.enclosure)) {}

    // Judges two at a time, in order, until `enough` cures are known or `most` candidates were judged.
    void judge(const std::vector<Candidate>& candidates, std::size_t most, std::size_t enough) {
        constexpr std::size_t at_once = 2;
        for (std::size_t from = 0; from < std::min(candidates.size(), most); from += at_once) {
            if (cures() >= enough || is_stopped(question_.options)) return;
            const std::size_t to = std::min({candidates.size(), most, from + at_once});
            std::vector<std::optional<Fix>> judged(to - from);
            tbb::parallel_for(from, to, [&](std::size_t i) { judged[i - from] = settled(candidates[i]); });
            for (auto& fix : judged) {
                if (!fix) continue;
                if (question_.options.found) question_.options.found(*fix);
                fixes_.push_back(*std::move(fix));
            }
        }
    }

    std::size_t cures() const {
        return static_cast<std::size_t>(std::count_if(fixes_.begin(), fixes_.end(), is_cure));
    }
    double cheapest_cure() const {
        double cheapest = std::numeric_limits<double>::infinity();
        for (const Fix& fix : fixes_) {
            if (is_cure(fix)) cheapest = std::min(cheapest, fix.effort);
        }
        return cheapest;
    }
    std::size_t judged() const { return judged_; }
    std::vector<Fix> take() && { return std::move(fixes_); }

  private:
    static bool is_cure(const Fix& fix) { return fix.remaining.empty() && fix.worsened.empty(); }

    std::optional<Fix> judged(const Candidate& candidate) {
        auto after = apply(question_.enclosure, candidate.changes, question_.options);
        if (!after) return std::nullopt;
        ++judged_;
        auto judgement = question_.judge(*after, candidate.changes);
        if (!judgement) return std::nullopt;
        Fix fix{"",
                candidate.effort,
                candidate.changes,
                std::move(*after),
                question_.before,
                std::move(*judgement)};
        fix.probability = probability_of(fix.after);
        fix.worsened = worsened(fix.before, fix.after, question_.enclosure);
        fix.remaining = still_failing(fix.before, fix.after, question_.enclosure);
        std::erase_if(fix.remaining, [&](const std::string& reason) {
            return std::find(fix.worsened.begin(), fix.worsened.end(), reason) != fix.worsened.end();
        });
        fix.warmed = warmed(question_.enclosure, fix.enclosure, fix.after.animals);
        fix.words = words_of(fix, question_.enclosure);
        return fix;
    }

    // The candidate judged, and once more by another amount where the judgement is not what was promised.
    std::optional<Fix> settled(const Candidate& candidate) {
        std::optional<Fix> first = judged(candidate);
        if (!first) return std::nullopt;
        if (!is_cure(*first) && candidate.shortfall.distance() < 0.3) {
            const auto outlook = glance_.look(candidate.changes);
            const auto next = scan_.again(candidate, glance_.trim(*outlook, first->after));
            if (next && next->changes != candidate.changes) {
                std::optional<Fix> second = judged(*next);
                if (second && standing_of(second->after, question_.enclosure) <
                                  standing_of(first->after, question_.enclosure)) {
                    first = std::move(second);
                }
            }
        }
        if (!worth_it(*first)) return std::nullopt;
        return first;
    }

    bool worth_it(const Fix& fix) const {
        const Standing standing = standing_of(fix.after, question_.enclosure);
        if (!(standing < standing_)) return false;
        // Five per cent is less than a hand-held meter tells apart: no keeper gets up for that.
        constexpr double noticeable = 0.05;
        if (standing.failed == standing_.failed && standing_.distance - standing.distance < noticeable)
            return false;
        // As many faults as before, and a new one among them: that is a trade, not a fix.
        return standing.failed < standing_.failed || fix.worsened.empty();
    }

    const Question& question_;
    const Glance& glance_;
    Scan& scan_;
    Standing standing_;
    std::atomic<std::size_t> judged_ = 0;
    std::vector<Fix> fixes_;
};

// A glance at few places, or, where that takes for whole what fails by a hair, at as many as a judgement looks at.
std::unique_ptr<Glance> glance_that_agrees(const light::Field& field,
                                           const std::vector<husbandry::AnimalJudgement>& animals,
                                           const Judgement& before, const FittedFactor& factor,
                                           GlanceOptions options) {
    auto glance = std::make_unique<Glance>(field, animals, factor, options);
    if (glance->at({})->agrees_with(before)) return glance;
    options.reach = options.judge.reach;
    options.reach.most_points = std::min<std::size_t>(options.reach.most_points, 2000);
    return std::make_unique<Glance>(field, animals, factor, options);
}

Search search(const Question& question, const Glance& glance) {
    const FixOptions& options = question.options;
    Scan scan(question.enclosure, glance, options);
    Judging judging(question, glance, scan);
    const std::vector<Candidate> singles = varied(scan.singles());
    const auto nearly = [](const Candidate& candidate) {
        constexpr double within_the_error_of_a_glance = 0.15;
        return candidate.cures() || candidate.shortfall.distance() < within_the_error_of_a_glance;
    };
    std::vector<Candidate> cures;
    std::vector<Candidate> helps;
    for (const Candidate& candidate : singles) (nearly(candidate) ? cures : helps).push_back(candidate);
    judging.judge(cures, options.most_judged, options.most);
    // Somebody waits: what helps a little is known before pairs are looked at.
    constexpr std::size_t at_once = 2;
    if (judging.cures() == 0) {
        judging.judge(helps, at_once, options.most);
        helps.erase(helps.begin(),
                    helps.begin() + static_cast<std::ptrdiff_t>(std::min(at_once, helps.size())));
    }
    if (options.pairs && !is_stopped(options)) {
        const std::vector<Candidate> pairs = varied(scan.pairs(judging.cheapest_cure()));
        std::vector<Candidate> better;
        std::copy_if(pairs.begin(), pairs.end(), std::back_inserter(better), nearly);
        judging.judge(better, options.most_judged / 2, options.most);
        if (judging.cures() == 0) {
            std::copy_if(pairs.begin(), pairs.end(), std::back_inserter(helps),
                         [&](const Candidate& pair) { return !nearly(pair); });
            std::stable_sort(helps.begin(), helps.end(), advice::better);
        }
    }
    std::erase_if(helps, [&](const Candidate& c) { return c.effort >= judging.cheapest_cure(); });
    const std::size_t enough = judging.cures() + options.most;
    judging.judge(helps, options.most_judged / 2, enough);
    Search found;
    found.judged = judging.judged();
    found.glances = scan.glances();
    found.places = glance.places();
    found.before = question.before;
    found.fixes = ranked(std::move(judging).take(), question.enclosure, options.most);
    return found;
}

}  // namespace

std::optional<Enclosure> apply(const Enclosure& enclosure, const Change& change, const FixOptions& options) {
    std::optional<Enclosure> after = changed(enclosure, change);
    if (after && !Clearances(enclosure, options).allow(*after, change)) return std::nullopt;
    return after;
}

std::optional<Enclosure> apply(const Enclosure& enclosure, const std::vector<Change>& changes,
                               const FixOptions& options) {
    std::optional<Enclosure> after = enclosure;
    for (const Change& change : changes) {
        after = apply(*after, change, options);
        if (!after) return std::nullopt;
    }
    return after;
}

Expected<Search> search_fixes(const Enclosure& enclosure, const FixOptions& options) {
    auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected<Problems>(animals.error());
    const light::Field field(enclosure, options.judge.field);
    const Judgement before =
        husbandry::judge_in(husbandry::light_of(field), enclosure, *animals, options.judge);
    if (standing_of(before, enclosure).everything_holds()) return Search{{}, before};
    const Judge judge = [&](const Enclosure& changed, const std::vector<Change>&) {
        return husbandry::judge(changed, options.judge);
    };
    GlanceOptions glances;
    glances.judge = options.judge;
    const auto glance = glance_that_agrees(field, *animals, before, {}, glances);
    return search({enclosure, before, judge, options}, *glance);
}

Expected<Search> search_fixes(const inference::Fit& fit, const FixOptions& options) {
    const Enclosure& enclosure = fit.response->enclosure();
    const inference::FittedJudgeOptions fitted = {options.judge};
    const auto before = inference::judge_fitted(fit, fitted);
    if (!before) return tl::unexpected<Problems>(before.error());
    if (standing_of(*before, enclosure).everything_holds()) return Search{{}, *before};
    auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return tl::unexpected<Problems>(animals.error());
    const Judge judge = [&](const Enclosure& changed, const std::vector<Change>& changes) {
        return inference::judge_fitted(carried_over(fit, changed, changes), fitted);
    };
    const FittedFactor factor = [&](std::span<const scene::Vec3> points) {
        return fitted_factor(fit, points);
    };
    GlanceOptions glances;
    glances.judge = options.judge;
    glances.margin = 0.2;  // what is uncertain wants more to spare
    const auto glance = glance_that_agrees(fit.response->field(), *animals, *before, factor, glances);
    return search({enclosure, *before, judge, options}, *glance);
}

Expected<std::vector<Fix>> find_fixes(const Enclosure& enclosure, const FixOptions& options) {
    auto found = search_fixes(enclosure, options);
    if (!found) return tl::unexpected<Problems>(found.error());
    return std::move(found->fixes);
}

}  // namespace dapple::advice
