#include "advice/shortfall.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>

namespace dapple::advice {

namespace {

using husbandry::Band;
using husbandry::JudgeOptions;

constexpr double meter_floor = 0.05;  // UVI, of a hand-held meter: below it logarithms tell nothing
constexpr double to_spare = 0.07;     // of a bound: what the sparse sample and reflected light may be off

// How far a value lies past a bound, in logarithms above the meter's floor.
double past(double value, double bound) {
    return std::max(0.0, std::log((value + meter_floor) / (bound + meter_floor)));
}

// One animal's reach.
struct View {
    const Outlook& outlook;
    const Watched& animal;
    std::size_t size() const { return animal.area.size(); }
    std::span<const double> uvi() const { return {outlook.uvi.data() + animal.first, size()}; }
    std::span<const double> warmth() const { return {outlook.warmth.data() + animal.first, size()}; }
    double total() const { return std::accumulate(animal.area.begin(), animal.area.end(), 0.0); }

    template <class Answers>
    double share(const Answers& answers) const {
        double sum = 0;
        for (std::size_t i = 0; i < size(); ++i) sum += answers(uvi()[i]) ? animal.area[i] : 0;
        return sum / total();
    }

    // The value that `share` of the area stays at or below.
    double quantile(std::span<const double> values, double share) const {
        std::vector<std::size_t> order(values.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(),
                  [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
        const double wanted = share * total();
        double below = 0;
        for (const std::size_t i : order) {
            below += animal.area[i];
            if (below >= wanted) return values[i];
        }
        return values[order.back()];
    }
};

struct Answer {
    Shortfall::Part part;
    double edge = 0;
};

double basking_distance(const View& view, std::size_t spot) {
    const double uvi = view.outlook.uvi[spot];
    return past(uvi, view.animal.band->high) + past(view.animal.band->low, uvi);
}

Answer basking(const View& view, double margin) {
    Answer answer;
    if (!view.animal.band) return answer;
    const Band& band = *view.animal.band;
    const double low = std::max(band.low, meter_floor);
    const double end = std::pow(band.high / low, margin);
    for (const std::size_t spot : view.animal.basks) {
        const double uvi = view.outlook.uvi[spot];
        answer.part.fails = answer.part.fails || uvi < band.low || uvi > band.high;
        answer.part.distance += basking_distance(view, spot);
        const double at_low_end = band.low > 0 ? past(low * end, uvi) : 0;
        answer.edge += at_low_end + past(uvi, band.high / end);
    }
    return answer;
}

Answer retreat(const View& view, const JudgeOptions& options) {
    double least = 1e9;
    for (const double uvi : view.uvi()) least = std::min(least, uvi);
    for (const std::size_t spot : view.animal.retreats) least = std::min(least, view.outlook.uvi[spot]);
    if (least == 1e9) return {};
    const bool needs_shade = view.animal.band && view.animal.band->low > options.shade_uvi && view.size() > 0;
    const double shade = needs_shade ? view.share([&](double uvi) { return uvi <= options.shade_uvi; }) : 1.0;
    const double lacking = std::max(0.0, 1 - shade / options.shade_share);
    Answer answer;
    answer.part = {least > options.retreat_uvi || lacking > 0, past(least, options.retreat_uvi) + lacking};
    answer.edge = past(least, (1 - to_spare) * options.retreat_uvi) +
                  std::max(0.0, 1 - shade / ((1 + to_spare) * options.shade_share));
    return answer;
}

Answer ceiling(const View& view) {
    if (!view.animal.band) return {};
    double most = 0;
    for (const double uvi : view.uvi()) most = std::max(most, uvi);
    for (const auto& spots : {view.animal.basks, view.animal.retreats}) {
        for (const std::size_t spot : spots) most = std::max(most, view.outlook.uvi[spot]);
    }
    const double top = view.animal.band->ceiling;
    return {{most > top, past(most, top)}, past(most, (1 - to_spare) * top)};
}

Answer gradient(const View& view, const JudgeOptions& options) {
    if (!view.animal.band || view.size() == 0 || view.animal.band->low <= options.retreat_uvi) return {};
    const double way = view.animal.band->low / options.retreat_uvi;
    const int steps = std::max(1, static_cast<int>(std::ceil(std::log10(way) * options.steps_per_decade)));
    std::vector<double> share(static_cast<std::size_t>(steps));
    for (std::size_t i = 0; i < view.size(); ++i) {
        const double up = std::log(view.uvi()[i] / options.retreat_uvi) / std::log(way) * steps;
        if (up >= 0 && up < steps) share[static_cast<std::size_t>(up)] += view.animal.area[i];
    }
    constexpr double a_hole = 0.3;  // what a whole missing step counts beside a meter that is off by a third
    Answer answer;
    for (double& here : share) {
        const double lacking = std::max(0.0, 1 - here / view.total() / options.step_share);
        answer.part.fails = answer.part.fails || lacking > 0;
        answer.part.distance += a_hole * lacking;
        answer.edge += 0.1 * a_hole * std::max(0.0, 1 - here / view.total() / (2 * options.step_share));
    }
    return answer;
}

Answer together(const View& view, const JudgeOptions& options) {
    if (view.size() == 0) return {};
    const auto uvi = view.uvi();
    const auto warmth = view.warmth();
    if (*std::max_element(warmth.begin(), warmth.end()) < options.least_warmth) return {};
    if (*std::max_element(uvi.begin(), uvi.end()) <= options.retreat_uvi) return {};
    const double much_uv = view.quantile(uvi, 1 - options.tenth);
    const double much_warmth = view.quantile(warmth, 1 - options.tenth);
    double with_uv = 0;
    double with_warmth = 0;
    double with_both = 0;
    for (std::size_t i = 0; i < view.size(); ++i) {
        const bool uv = uvi[i] >= much_uv;
        const bool warm = warmth[i] >= much_warmth;
        with_uv += uv ? view.animal.area[i] : 0;
        with_warmth += warm ? view.animal.area[i] : 0;
        with_both += uv && warm ? view.animal.area[i] : 0;
    }
    const double overlap = with_both / std::min(with_uv, with_warmth);
    const double lacking = std::max(0.0, 1 - overlap / options.overlap);
    return {{lacking > 0, lacking}, std::max(0.0, 1 - overlap / (1.2 * options.overlap))};
}

}  // namespace

int Shortfall::failed() const {
    int count = 0;
    for (const auto& animal : animals) {
        for (std::size_t p = 1; p < animal.size(); ++p) count += animal[p].fails ? 1 : 0;
    }
    for (const double off : basks) count += off > 0 ? 1 : 0;
    return count;
}

double Shortfall::distance() const {
    double sum = 0;
    for (const auto& animal : animals) {
        for (const Part& part : animal) sum += part.distance;
    }
    return sum;
}

bool Shortfall::agrees_with(const husbandry::Judgement& judgement) const {
    using husbandry::Verdict;
    constexpr std::array parts = {&Verdict::basking, &Verdict::retreat, &Verdict::ceiling, &Verdict::gradient,
                                  &Verdict::together};
    for (std::size_t a = 0; a < animals.size(); ++a) {
        for (std::size_t p = 0; p < parts.size(); ++p) {
            const bool fails_there = (judgement.animals[a].verdict.*parts[p]).holds == false;
            if (animals[a][p].fails != fails_there) return false;
        }
    }
    return true;
}

int Shortfall::worse_than(const Shortfall& before) const {
    constexpr double noticeable = 0.05;  // below what a hand-held meter tells apart
    int count = 0;
    for (std::size_t a = 0; a < animals.size(); ++a) {
        for (std::size_t p = 0; p < animals[a].size(); ++p) {
            const Part& is = animals[a][p];
            const Part& was = before.animals[a][p];
            if (is.fails && (!was.fails || is.distance > was.distance + noticeable)) ++count;
        }
    }
    for (std::size_t i = 0; i < basks.size(); ++i) {
        if (basks[i] > before.basks[i] + noticeable) ++count;
    }
    return count;
}

Shortfall shortfall_of(const Outlook& outlook, const std::vector<Watched>& animals,
                       const JudgeOptions& options, double margin) {
    Shortfall sum;
    for (const Watched& animal : animals) {
        const View view{outlook, animal};
        std::array<Shortfall::Part, 5> parts;
        std::size_t next = 0;
        for (const Answer& answer : {basking(view, margin), retreat(view, options), ceiling(view),
                                     gradient(view, options), together(view, options)}) {
            parts[next++] = answer.part;
            sum.edge += answer.edge;
        }
        sum.animals.push_back(parts);
        if (!animal.band) continue;
        for (const std::size_t spot : animal.basks) sum.basks.push_back(basking_distance(view, spot));
    }
    return sum;
}

}  // namespace dapple::advice
