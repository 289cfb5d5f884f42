#include "advice/scan.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "advice/refine.h"

namespace dapple::advice {

namespace {

// What is wrong with a candidate, in minutes that a keeper would give to have it right.
double price_of(const Shortfall& is, const Shortfall& before, double effort) {
    constexpr double a_failing_part = 50;
    constexpr double a_part_made_worse = 200;
    constexpr double off_by_its_logarithm = 100;
    constexpr double nothing_to_spare = 20;
    return effort + a_failing_part * is.failed() + a_part_made_worse * is.worse_than(before) +
           off_by_its_logarithm * is.distance() + nothing_to_spare * is.edge;
}

// At most `most` of a list, its ends among them.
std::vector<std::size_t> spread_over(std::size_t count, std::size_t most) {
    std::vector<std::size_t> picks;
    if (count <= most) {
        for (std::size_t i = 0; i < count; ++i) picks.push_back(i);
        return picks;
    }
    for (std::size_t i = 0; i < most; ++i) picks.push_back(i * (count - 1) / (most - 1));
    return picks;
}

template <class T>
std::vector<T> present(std::vector<std::optional<T>> found) {
    std::vector<T> all;
    for (auto& one : found) {
        if (one) all.push_back(*std::move(one));
    }
    return all;
}

}  // namespace

bool better(const Candidate& a, const Candidate& b) {
    if (a.cures() != b.cures()) return a.cures();
    return a.price < b.price;
}

Scan::Scan(const scene::Enclosure& enclosure, const Glance& glance, const FixOptions& options)
    : enclosure_(enclosure),
      glance_(glance),
      options_(options),
      clearances_(enclosure, options),
      ways_(ways_of(enclosure, options)),
      coarse_(ways_.size()),
      before_(*glance.at({})) {}

std::optional<Candidate> Scan::tried(const std::vector<std::size_t>& ways, const std::vector<double>& amounts,
                                     const Trim& trim) {
    Candidate candidate{ways, amounts, {}, 0, 0, {}};
    for (std::size_t i = 0; i < ways.size(); ++i) {
        candidate.changes.push_back(ways_[ways[i]].at(amounts[i]));
        const auto alone = changed(glance_.bare(), candidate.changes.back());
        if (!alone || !clearances_.seem_to_allow(*alone, candidate.changes.back())) return std::nullopt;
    }
    ++glances_;
    auto shortfall = glance_.at(candidate.changes, trim);
    if (!shortfall) return std::nullopt;
    candidate.shortfall = *std::move(shortfall);
    candidate.effort = minutes(candidate.changes, options_.effort);
    candidate.price = price_of(candidate.shortfall, before_, candidate.effort);
    return candidate;
}

std::vector<Candidate> Scan::walk(std::size_t way, const Trim& trim) {
    std::vector<Candidate> all;
    if (ways_[way].measure == Way::Measure::none) {
        if (auto only = tried({way}, {0}, trim)) all.push_back(*std::move(only));
        return all;
    }
    for (const double amount : ways_[way].amounts) {
        auto next = tried({way}, {amount}, trim);
        // Whatever is moved is stopped by the first thing in its way.
        if (!next && ways_[way].measure == Way::Measure::length) break;
        if (next) all.push_back(*std::move(next));
    }
    return all;
}

std::optional<Candidate> Scan::best_on(std::size_t way, const std::vector<Candidate>& coarse,
                                       const Trim& trim) {
    std::optional<Candidate> best;
    for (const Candidate& candidate : coarse) {
        if (!best || better(candidate, *best)) best = candidate;
    }
    const double fine = ways_[way].finest;
    if (fine <= 0 || ways_[way].amounts.empty()) return best;
    const std::vector<double>& amounts = ways_[way].amounts;
    const double step = amounts.size() > 1 ? std::abs(amounts[1] - amounts[0]) : 4 * fine;
    const double around = best ? best->amounts.front() : amounts.front();
    const int finer = static_cast<int>(std::lround(step / fine));
    for (int i = 1 - finer; i < finer; ++i) {
        const double amount = around + i * fine;
        const bool beyond = amount > *std::max_element(amounts.begin(), amounts.end()) + 0.5 * fine;
        const bool positive = ways_[way].measure == Way::Measure::height || amount > 0.5 * fine;
        if (i == 0 || beyond || !positive) continue;
        auto next = tried({way}, {amount}, trim);
        if (next && (!best || better(*next, *best))) best = std::move(next);
    }
    return best;
}

bool Scan::improves(const Candidate& candidate) const {
    constexpr double noticeable = 0.03;
    // What fails by a hair may seem to hold at a glance; then having more to spare is what is sought.
    const bool seems_to_hold = before_.failed() == 0;
    return candidate.shortfall.failed() < before_.failed() ||
           candidate.shortfall.distance() < before_.distance() - noticeable ||
           (seems_to_hold && candidate.cures() && candidate.shortfall.edge < before_.edge - 0.1 * noticeable);
}

std::vector<Candidate> Scan::singles() {
    std::vector<std::optional<Candidate>> found(ways_.size());
    tbb::parallel_for(std::size_t{0}, ways_.size(), [&](std::size_t way) {
        coarse_[way] = walk(way, {});
        found[way] = best_on(way, coarse_[way], {});
        if (found[way] && !improves(*found[way])) found[way].reset();
    });
    auto all = present(std::move(found));
    std::stable_sort(all.begin(), all.end(), better);
    return all;
}

std::vector<Candidate> Scan::pairs(double below) {
    constexpr std::size_t amounts_of_each = 4;
    constexpr std::size_t most_glances = 12000;
    constexpr std::size_t most_refined = 16;
    struct Combination {
        const Candidate* a;
        const Candidate* b;
        double promise;  // minutes: as if what each does were added
    };
    std::vector<Combination> combinations;
    const double start = price_of(before_, before_, 0);
    for (std::size_t i = 0; i < ways_.size(); ++i) {
        for (std::size_t j = i + 1; j < ways_.size(); ++j) {
            if (!can_be_paired(ways_[i], ways_[j])) continue;
            for (const std::size_t p : spread_over(coarse_[i].size(), amounts_of_each)) {
                for (const std::size_t q : spread_over(coarse_[j].size(), amounts_of_each)) {
                    const Candidate& a = coarse_[i][p];
                    const Candidate& b = coarse_[j][q];
                    if (a.effort + b.effort >= below || !(improves(a) || improves(b))) continue;
                    combinations.push_back({&a, &b, a.price + b.price - start});
                }
            }
        }
    }
    std::stable_sort(combinations.begin(), combinations.end(),
                     [](const Combination& a, const Combination& b) { return a.promise < b.promise; });
    if (combinations.size() > most_glances) combinations.resize(most_glances);
    std::vector<std::optional<Candidate>> found(combinations.size());
    tbb::parallel_for(std::size_t{0}, combinations.size(), [&](std::size_t i) {
        const Combination& both = combinations[i];
        auto pair = tried({both.a->ways.front(), both.b->ways.front()},
                          {both.a->amounts.front(), both.b->amounts.front()});
        // Half a pair that does as well alone is no pair.
        const bool more = pair && pair->shortfall.failed() <
                                      std::min(both.a->shortfall.failed(), both.b->shortfall.failed());
        if (more) found[i] = std::move(pair);
    });
    auto all = present(std::move(found));
    std::stable_sort(all.begin(), all.end(), better);
    std::vector<Candidate> best;  // of each two ways
    for (Candidate& pair : all) {
        const bool known = std::any_of(best.begin(), best.end(),
                                       [&](const Candidate& other) { return other.ways == pair.ways; });
        if (!known) best.push_back(std::move(pair));
        if (best.size() == most_refined) break;
    }
    tbb::parallel_for(std::size_t{0}, best.size(), [&](std::size_t i) { best[i] = refined(best[i], {}); });
    std::stable_sort(best.begin(), best.end(), better);
    return best;
}

Candidate Scan::refined(const Candidate& pair, const Trim& trim) {
    std::vector<Range> ranges;
    for (const std::size_t way : pair.ways) {
        const auto& amounts = ways_[way].amounts;
        if (ways_[way].finest <= 0 || amounts.size() < 2) {
            ranges.push_back({0, 0, 0});
            continue;
        }
        const auto [low, high] = std::minmax_element(amounts.begin(), amounts.end());
        ranges.push_back({*low, *high, ways_[way].finest});
    }
    Candidate best = pair;
    const auto price = [&](const std::vector<double>& amounts) {
        auto candidate = tried(pair.ways, amounts, trim);
        if (!candidate) return 1e6;
        const double is = candidate->price;
        const bool in_steps = in_whole_steps(amounts, ranges);
        if (in_steps && better(*candidate, best)) best = *std::move(candidate);
        return is;
    };
    refine(pair.amounts, ranges, price);
    return best;
}

std::optional<Candidate> Scan::again(const Candidate& candidate, const Trim& trim) {
    if (candidate.ways.size() == 1) {
        const std::size_t way = candidate.ways.front();
        return best_on(way, walk(way, trim), trim);
    }
    auto start = tried(candidate.ways, candidate.amounts, trim);
    if (!start) return std::nullopt;
    return refined(*start, trim);
}

}  // namespace dapple::advice
