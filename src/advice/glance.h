// A glance at a changed enclosure: what would be read at the spots and at a sample of reach, without tracing anything
// but direct light, thousands of times a second. Good to a few per cent; what it finds is judged in full afterwards.
//
// Direct light comes from the vector kernel (light/kernel.h), a flux vector for each lamp and place; an aimed reading is
// the largest sum over any set of lamps, each taken as coming from one direction. Light reflected from walls is that of
// the enclosure as it stands, in proportion to each lamp's direct light on average.
#pragma once

#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "advice/change.h"
#include "advice/shortfall.h"
#include "light/compiled.h"
#include "light/fast_direct.h"
#include "light/field.h"
#include "light/panes.h"

namespace dapple::advice {

// By lamp and place, what readings have shown the light to be, over what the document says.
using FittedFactor = std::function<std::vector<std::vector<double>>(std::span<const scene::Vec3> points)>;

struct GlanceOptions {
    husbandry::ReachOptions reach = {0.04, 320};
    husbandry::JudgeOptions judge = {};
    double margin = 0.1;  // shortfall_of's
};

// How an exact judgement differed from the glance at the same enclosure: a factor for each spot, and for reach.
struct Trim {
    std::vector<double> spots;
    double reach = 1;
};

class Glance {
  public:
    // `full` is the light of the enclosure; it is not kept.
    Glance(const light::Field& full, const std::vector<husbandry::AnimalJudgement>& animals,
           const FittedFactor& factor, const GlanceOptions& options);

    // Nothing where a change cannot be carried out.
    std::optional<Outlook> look(const std::vector<Change>& changes) const;
    Shortfall judge(const Outlook& outlook, const Trim& trim = {}) const;
    std::optional<Shortfall> at(const std::vector<Change>& changes, const Trim& trim = {}) const;

    // What turns the outlook into what was found by judging the same changes.
    Trim trim(const Outlook& outlook, const husbandry::Judgement& found) const;

    // The enclosure without what only colours and words need: cheap to copy.
    const scene::Enclosure& bare() const { return bare_; }
    std::size_t places() const { return points_.size(); }
    const std::vector<Watched>& animals() const { return animals_; }

  private:
    struct LampLight {  // at each place, at unit strength
        std::vector<float> x, y, z, up;
        double mean = 0;  // of the flux
    };
    struct Strength {
        double uvi = 0;
        double warmth = 0;
    };
    struct Tables {  // of each pane for a lamp's UVI and warmth
        std::vector<std::vector<float>> uvi, warmth;
    };
    struct Shown {
        const LampLight* light;
        Strength strength;
        int as;            // the lamp of the base whose corrections and reflections it has; -1: a new one
        double reflected;  // in proportion to what was
    };

    void watch(const std::vector<husbandry::AnimalJudgement>& animals);
    void take_base_light(const light::Field& full, const FittedFactor& factor);
    LampLight light_of(const light::KernelLamp& lamp, const Tables& tables, const light::CompiledScene& scene,
                       const scene::Enclosure& enclosure, const light::PointSet& points) const;
    const Tables& tables_for(const scene::Lamp& lamp, std::size_t index) const;
    Strength strength_of(const scene::Lamp& lamp, std::size_t index) const;
    light::PointSet carried(const scene::Enclosure& after, const std::vector<Change>& changes) const;
    Outlook sum(const std::vector<Shown>& shown) const;

    GlanceOptions options_;
    scene::Enclosure bare_;
    std::vector<Watched> animals_;
    std::vector<scene::Vec3> points_;
    std::vector<std::string> on_;  // what each place in reach lies on, by name; empty for spots
    std::optional<light::PointSet> set_;
    light::CompiledScene scene_;
    std::optional<light::Panes> panes_;
    std::vector<std::string> screen_ids_;          // of panes_
    std::vector<spectrum::LampSpectrum> spectra_;  // by lamp
    std::vector<Strength> strength_;
    std::vector<LampLight> light_;
    std::vector<std::vector<double>> correction_;  // [lamp][place]: of the fit
    std::vector<Outlook> reflected_;               // [lamp]
    Strength reflected_share_ = {0.1, 0.3};        // of direct light, for lamps that are new
    mutable std::mutex tables_mutex_;
    mutable std::map<std::string, Tables> tables_;  // by spectrum
};

}  // namespace dapple::advice
