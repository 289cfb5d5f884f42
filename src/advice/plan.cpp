#include "advice/plan.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "advice/clearance.h"
#include "advice/glance.h"
#include "advice/lamps.h"
#include "advice/plan_room.h"
#include "advice/standing.h"
#include "advice/words.h"
#include "husbandry/judging.h"

namespace dapple::advice {

using scene::Vec3;

namespace {

struct Draft {
    std::size_t room;  // which of the stones
    std::vector<Change> lamps;
    double price = 0;
    Shortfall shortfall;
};

double power_of(const std::vector<Change>& lamps) {
    double sum = 0;
    for (const Change& lamp : lamps) sum += find_lamp_model(lamp.other)->lamp.power_w;
    return sum;
}

// One room with a stone, looked at with every lamp at every height.
class Room {
  public:
    Room(PlannedRoom room, const PlanOptions& options)
        : room_(std::move(room)),
          options_(options),
          clearances_(room_.enclosure, options.fix),
          field_(room_.enclosure, options.fix.judge.field),
          glance_(field_, *husbandry::resolve_animals(room_.enclosure), {},
                  {GlanceOptions{}.reach, options.fix.judge}) {}

    const PlannedRoom& planned() const { return room_; }
    const Glance& glance() const { return glance_; }

    std::vector<Draft> drafts(std::size_t index, double warmth_wanted, const std::string& only_model = "",
                              const Trim& trim = {}) const {
        std::vector<Draft> all;
        const std::vector<Change> heat = heat_lamps(warmth_wanted);
        for (const LampModel& model : lamp_models()) {
            if (!model.uv || (!only_model.empty() && model.id != only_model)) continue;
            if (model.heat && warmth_wanted <= 0) continue;  // it would heat an animal that does not bask
            for (const Change& uv : places_of(model, "uv", warmth_wanted > 0 && !model.heat ? 1 : 0)) {
                if (model.heat || warmth_wanted <= 0) {
                    consider({uv}, index, warmth_wanted, trim, all);
                    continue;
                }
                for (const Change& lamp : heat) consider({uv, lamp}, index, warmth_wanted, trim, all);
            }
        }
        return all;
    }

    std::size_t glances() const { return glances_; }

  private:
    // Over the stone from as high as lamps hang down to the least distance; beside the middle where another one hangs.
    std::vector<Change> places_of(const LampModel& model, const std::string& id, int beside) const {
        constexpr double step = 0.03;
        constexpr double above_the_top = 0.3;
        std::vector<Change> places;
        const Vec3 size = room_.enclosure.size;
        const Vec3 half = bounds(solid_of(model.lamp)).half() + Vec3::Constant(0.005);
        if (2 * half.x() > size.x()) return places;
        Vec3 centre = room_.basking;
        centre.x() = std::clamp(centre.x(), half.x(), size.x() - half.x());
        const double aside = std::min(0.1, 0.25 * size.y());
        centre.y() = std::clamp(centre.y() + beside * aside, half.y(), size.y() - half.y());
        const double lowest = room_.basking.z() + room_.back_height + model.safe_distance;
        for (double z = std::floor(100 * (size.z() + above_the_top)) / 100; z > lowest; z -= step) {
            const bool in_the_opening = std::abs(z - size.z()) < 0.04;
            if (in_the_opening) continue;
            centre.z() = z;
            const Change lamp = {Change::Kind::add_lamp, id, model.id, centre};
            const auto after = changed(glance_.bare(), lamp);
            if (after && clearances_.seem_to_allow(*after, lamp)) places.push_back(lamp);
        }
        return places;
    }

    // Of each heat lamp the height that brings the wanted warmth, the nearest first; at most three.
    std::vector<Change> heat_lamps(double wanted) const {
        std::vector<std::pair<double, Change>> found;
        if (wanted <= 0) return {};
        for (const LampModel& model : lamp_models()) {
            if (model.uv || !model.heat) continue;
            std::optional<std::pair<double, Change>> best;
            for (const Change& lamp : places_of(model, "heat", -1)) {
                ++glances_;
                const auto outlook = glance_.look({lamp});
                const double off = std::abs(std::log(outlook->warmth.front() / wanted));
                if (!best || off < best->first) best = {off, lamp};
            }
            if (best) found.push_back(*best);
        }
        std::stable_sort(found.begin(), found.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        std::vector<Change> lamps;
        for (std::size_t i = 0; i < std::min<std::size_t>(3, found.size()); ++i)
            lamps.push_back(found[i].second);
        return lamps;
    }

    void consider(const std::vector<Change>& lamps, std::size_t index, double warmth_wanted, const Trim& trim,
                  std::vector<Draft>& all) const {
        ++glances_;
        const auto outlook = glance_.look(lamps);
        if (!outlook) return;
        // A band that starts in the dark is no reason to give no UV at all: a third of its top is wanted.
        constexpr double of_use = 0.3;
        const auto& band = glance_.animals().front().band;
        const double basking = outlook->uvi.front() * (trim.spots.empty() ? 1.0 : trim.spots.front());
        if (basking < of_use * band->high) return;
        // Spectra leave out part of the warmth of a discharge lamp: only what is far off is refused.
        constexpr double far_off = 3;
        const double warmth = outlook->warmth.front();
        if (warmth_wanted > 0 && (warmth < warmth_wanted / far_off || warmth > warmth_wanted * far_off))
            return;
        Draft draft{index, lamps, 0, glance_.judge(*outlook, trim)};
        constexpr double a_failing_part = 500;
        constexpr double off_by_its_logarithm = 500;
        constexpr double nothing_to_spare = 100;
        constexpr double a_watt = 0.1;
        draft.price = minutes(lamps, options_.fix.effort) + a_watt * power_of(lamps) + room_.stone_minutes +
                      a_failing_part * draft.shortfall.failed() +
                      off_by_its_logarithm * draft.shortfall.distance() +
                      nothing_to_spare * draft.shortfall.edge;
        all.push_back(std::move(draft));
    }

    PlannedRoom room_;
    const PlanOptions& options_;
    Clearances clearances_;
    light::Field field_;
    Glance glance_;
    mutable std::size_t glances_ = 0;
};

std::string words_for(const Plan& plan, const std::vector<Change>& lamps, const PlannedRoom& room) {
    std::string words;
    for (const Change& lamp : lamps) {
        std::string one = instruction(lamp, plan.enclosure);
        if (!words.empty()) one[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(one[0])));
        words += (words.empty() ? "" : "; ") + one;
    }
    words += fmt::format("; over a stone {:.0f} cm high", 100 * room.basking.z());
    std::string readings;
    for (const auto& spot : plan.judgement.spots) {
        readings += fmt::format("{}{} {:.1f}", readings.empty() ? ": " : ", ", spot.name, spot.uvi);
    }
    words += readings + " UVI.";
    for (const std::string& sentence : plan.wrong) words += " " + sentence;
    return words;
}

std::optional<Plan> judged(const Draft& draft, const Room& room, const PlanOptions& options) {
    auto enclosure = apply(room.planned().enclosure, draft.lamps, options.fix);
    if (!enclosure) return std::nullopt;
    auto judgement = husbandry::judge(*enclosure, options.fix.judge);
    if (!judgement) return std::nullopt;
    Plan plan{"",
              minutes(draft.lamps, options.fix.effort) + room.planned().stone_minutes,
              power_of(draft.lamps),
              {},
              *std::move(enclosure),
              *std::move(judgement),
              {}};
    for (const Change& lamp : draft.lamps) plan.models.push_back(lamp.other);
    plan.wrong = still_failing(plan.judgement, plan.judgement, plan.enclosure);
    plan.words = words_for(plan, draft.lamps, room.planned());
    return plan;
}

// The best draft of each UV lamp, the best first.
std::vector<Draft> one_of_each(std::vector<Draft> drafts) {
    std::stable_sort(drafts.begin(), drafts.end(),
                     [](const Draft& a, const Draft& b) { return a.price < b.price; });
    std::vector<Draft> kept;
    for (Draft& draft : drafts) {
        const bool known = std::any_of(kept.begin(), kept.end(), [&](const Draft& other) {
            return other.lamps.front().other == draft.lamps.front().other;
        });
        if (!known) kept.push_back(std::move(draft));
    }
    return kept;
}

}  // namespace

double basking_irradiance(const husbandry::Species& species) {
    if (!species.basking_surface_c) return 0;
    constexpr double loss = 12;  // W/m2/K
    constexpr double absorptance = 0.8;
    const auto middle = [](const husbandry::Range& range) { return 0.5 * (range.first + range.second); };
    const double basking = middle(*species.basking_surface_c);
    const double air = species.air_warm_c ? middle(*species.air_warm_c) : basking - 8;
    return std::max(0.0, loss * (basking - air) / absorptance);
}

Expected<Planning> plan_for(const husbandry::Species& species, const Vec3& size, const PlanOptions& options) {
    if (!husbandry::band_of(species.zones)) {
        return refuse({"", "species", species.scientific_name + ", whose UV zone is not known",
                       "a species with a UV zone; `dapple species` lists them"});
    }
    Planning planning{species, size, {}, {}, 0, 0};
    std::vector<std::unique_ptr<Room>> rooms;
    for (PlannedRoom& room : rooms_for(species, size, options.fix.effort)) {
        rooms.push_back(std::make_unique<Room>(std::move(room), options));
    }
    const double warmth = basking_irradiance(species);
    std::vector<std::vector<Draft>> by_room(rooms.size());
    tbb::parallel_for(std::size_t{0}, rooms.size(),
                      [&](std::size_t r) { by_room[r] = rooms[r]->drafts(r, warmth); });
    std::vector<Draft> drafts;
    for (auto& some : by_room) std::move(some.begin(), some.end(), std::back_inserter(drafts));
    drafts = one_of_each(std::move(drafts));
    if (drafts.size() > 2 * options.most) drafts.resize(2 * options.most);

    std::vector<std::vector<Plan>> found(drafts.size());
    tbb::parallel_for(std::size_t{0}, drafts.size(), [&](std::size_t i) {
        const Room& room = *rooms[drafts[i].room];
        auto plan = judged(drafts[i], room, options);
        if (!plan) return;
        found[i].push_back(*plan);
        if (plan->wrong.empty()) return;
        // Once more, with what the judgement showed of how far the glance was off.
        const auto outlook = room.glance().look(drafts[i].lamps);
        const auto again = one_of_each(room.drafts(drafts[i].room, warmth, drafts[i].lamps.front().other,
                                                   room.glance().trim(*outlook, plan->judgement)));
        if (again.empty() || again.front().lamps == drafts[i].lamps) return;
        if (auto second = judged(again.front(), room, options)) found[i].push_back(*std::move(second));
    });
    for (const auto& room : rooms) planning.glances += room->glances();
    for (auto& plans : found) {
        planning.judged += plans.size();
        for (Plan& plan : plans)
            (plan.wrong.empty() ? planning.plans : planning.nearest).push_back(std::move(plan));
    }
    std::stable_sort(planning.plans.begin(), planning.plans.end(), [](const Plan& a, const Plan& b) {
        return std::pair(a.effort, a.power_w) < std::pair(b.effort, b.power_w);
    });
    if (planning.plans.size() > options.most)
        planning.plans.erase(planning.plans.begin() + static_cast<std::ptrdiff_t>(options.most),
                             planning.plans.end());
    std::stable_sort(planning.nearest.begin(), planning.nearest.end(),
                     [](const Plan& a, const Plan& b) { return a.wrong.size() < b.wrong.size(); });
    planning.nearest.erase(
        planning.nearest.begin() + (planning.plans.empty() && !planning.nearest.empty() ? 1 : 0),
        planning.nearest.end());
    return planning;
}

}  // namespace dapple::advice
