#include "advice/refine.h"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace dapple::advice {

namespace {

constexpr int most_calls = 60;  // about what two amounts need; more finds fractions of a centimetre

struct Objective {
    const std::function<double(const std::vector<double>&)>& price;
    std::vector<double> amounts;          // all of them
    std::vector<std::size_t> may_change;  // those NLopt moves

    double at(const std::vector<double>& moved) {
        for (std::size_t i = 0; i < may_change.size(); ++i) amounts[may_change[i]] = moved[i];
        return price(amounts);
    }
    static double call(const std::vector<double>& moved, std::vector<double>& /*gradient*/, void* self) {
        return static_cast<Objective*>(self)->at(moved);
    }
};

}  // namespace

bool in_whole_steps(const std::vector<double>& amounts, const std::vector<Range>& ranges) {
    for (std::size_t i = 0; i < amounts.size(); ++i) {
        if (ranges[i].step <= 0) continue;
        const double steps = amounts[i] / ranges[i].step;
        if (std::abs(steps - std::round(steps)) > 1e-6) return false;
    }
    return true;
}

void refine(const std::vector<double>& start, const std::vector<Range>& ranges,
            const std::function<double(const std::vector<double>&)>& price) {
    Objective objective{price, start, {}};
    std::vector<double> least;
    std::vector<double> most;
    std::vector<double> first;
    std::vector<double> moved;
    for (std::size_t i = 0; i < ranges.size(); ++i) {
        if (ranges[i].step <= 0) continue;
        objective.may_change.push_back(i);
        least.push_back(ranges[i].least);
        most.push_back(ranges[i].most);
        first.push_back(4 * ranges[i].step);
        moved.push_back(std::clamp(start[i], ranges[i].least, ranges[i].most));
    }
    if (moved.empty()) return;
    nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(moved.size()));
    search.set_min_objective(Objective::call, &objective);
    search.set_lower_bounds(least);
    search.set_upper_bounds(most);
    search.set_initial_step(first);
    search.set_maxeval(most_calls);
    double found = 0;
    try {
        search.optimize(moved, found);
    } catch (const nlopt::roundoff_limited&) {
        // The best so far is in `moved`; a price with steps often ends so.
    }
    // Whole steps around it.
    std::vector<double> around = moved;
    const auto corners = std::size_t{1} << moved.size();
    for (std::size_t corner = 0; corner < corners; ++corner) {
        for (std::size_t k = 0; k < moved.size(); ++k) {
            const double step = ranges[objective.may_change[k]].step;
            const double down = std::floor(moved[k] / step) * step;
            around[k] = std::clamp(down + (((corner >> k) & 1U) != 0 ? step : 0.0), least[k], most[k]);
        }
        objective.at(around);
    }
}

}  // namespace dapple::advice
