#include "advice/glance.h"

#include <algorithm>
#include <cmath>

#include "husbandry/judging.h"
#include "light/lamp.h"

namespace dapple::advice {

using light::CompiledScene;
using light::KernelLamp;
using light::PointSet;
using scene::Enclosure;
using scene::Vec3;
using spectrum::Quantity;

namespace {

constexpr int search_chords = 5;  // of a disc, as light::WhatIf takes them

// Geometry, ids and names; neither spectra nor the document.
Enclosure without_colours(Enclosure enclosure) {
    enclosure.source.clear();
    for (scene::Wall& wall : enclosure.walls) {
        if (wall) wall = spectrum::Material{};
    }
    for (scene::Lamp& lamp : enclosure.lamps) {
        lamp.spectrum.relative.resize(0);
        lamp.spectrum.source.clear();
    }
    for (scene::Furniture& piece : enclosure.furniture) piece.material = {};
    for (scene::Screen& screen : enclosure.screens) {
        if (auto* pane = std::get_if<scene::Pane>(&screen.kind)) pane->material = {};
    }
    for (scene::Animal& animal : enclosure.animals) animal.definition.clear();
    return enclosure;
}

KernelLamp for_search(KernelLamp lamp) {
    if (lamp.emission == light::KernelEmission::tube) lamp.pieces = 0;
    if (lamp.emission == light::KernelEmission::disc) lamp.pieces = search_chords;
    return lamp;
}

CompiledScene alone(const scene::Lamp& lamp) {
    Enclosure enclosure;
    enclosure.size = Vec3::Ones();
    enclosure.lamps = {lamp};
    return CompiledScene(enclosure);
}

bool changes_lamp(const std::vector<Change>& changes, const std::string& id) {
    return std::any_of(changes.begin(), changes.end(), [&](const Change& change) {
        return concerns_lamps_only(change.kind) && (change.id == id || change.other == id);
    });
}

bool changes_room(const std::vector<Change>& changes) {
    return std::any_of(changes.begin(), changes.end(),
                       [](const Change& change) { return !concerns_lamps_only(change.kind); });
}

double mean_of(const std::vector<double>& values) {
    double sum = 0;
    for (const double value : values) sum += value;
    return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

std::string surface_name(const scene::Furniture& piece) {
    return piece.name.empty() ? piece.id : piece.name;
}

}  // namespace

Glance::Glance(const light::Field& full, const std::vector<husbandry::AnimalJudgement>& animals,
               const FittedFactor& factor, const GlanceOptions& options)
    : options_(options),
      bare_(without_colours(full.enclosure())),
      scene_(full.enclosure()),
      panes_(full.enclosure()) {
    const Enclosure& enclosure = full.enclosure();
    for (const auto& screen : enclosure.screens) screen_ids_.push_back(screen.id);
    for (const auto& lamp : enclosure.lamps) spectra_.push_back(lamp.spectrum);
    for (KernelLamp& lamp : scene_.lamps) lamp = for_search(lamp);
    watch(animals);
    set_.emplace(points_);
    for (std::size_t l = 0; l < enclosure.lamps.size(); ++l) {
        const double strength = light::strength(enclosure.lamps[l]);
        const auto& relative = enclosure.lamps[l].spectrum.relative;
        strength_.push_back({strength * spectrum::measure(relative, Quantity::uvi),
                             strength * spectrum::measure(relative, Quantity::irradiance)});
        light_.push_back(light_of(scene_.lamps[l], tables_for(enclosure.lamps[l], l), scene_, bare_, *set_));
    }
    take_base_light(full, factor);
}

void Glance::watch(const std::vector<husbandry::AnimalJudgement>& animals) {
    for (const scene::Place& spot : bare_.spots) {
        points_.push_back(husbandry::reading_point(spot, animals));
        on_.emplace_back();
    }
    for (const husbandry::AnimalJudgement& animal : animals) {
        Watched watched;
        watched.band = animal.band;
        for (std::size_t s = 0; s < bare_.spots.size(); ++s) {
            if (!husbandry::belongs_to(bare_.spots[s], animal)) continue;
            if (bare_.spots[s].role == scene::Role::bask) watched.basks.push_back(s);
            if (bare_.spots[s].role == scene::Role::retreat) watched.retreats.push_back(s);
        }
        const auto reach =
            husbandry::reach_of(bare_, animal.species.back_height, animal.species.climbs, options_.reach);
        watched.first = points_.size();
        watched.area = reach.area;
        points_.insert(points_.end(), reach.points.begin(), reach.points.end());
        for (const int surface : reach.on) on_.push_back(reach.surfaces[static_cast<std::size_t>(surface)]);
        animals_.push_back(std::move(watched));
    }
    if (points_.empty()) {  // nothing to look at: one place keeps the kernel content
        points_.emplace_back(0.5 * bare_.size);
        on_.emplace_back();
    }
}

void Glance::take_base_light(const light::Field& full, const FittedFactor& factor) {
    const std::size_t lamps = light_.size();
    const light::Field direct(full.enclosure(), {0});
    const auto aimed = light::Facing::aimed();
    const auto up = light::Facing::up();
    const auto uvi = full.values_by_lamp(points_, Quantity::uvi, aimed);
    const auto uvi_direct = direct.values_by_lamp(points_, Quantity::uvi, aimed);
    const auto warmth = full.values_by_lamp(points_, Quantity::irradiance, up);
    const auto warmth_direct = direct.values_by_lamp(points_, Quantity::irradiance, up);
    const auto fitted =
        factor ? factor(points_)
               : std::vector<std::vector<double>>(lamps, std::vector<double>(points_.size(), 1.0));
    Strength all_direct;
    Strength all_reflected;
    for (std::size_t l = 0; l < lamps; ++l) {
        Outlook reflected{std::vector<double>(points_.size()), std::vector<double>(points_.size())};
        for (std::size_t i = 0; i < points_.size(); ++i) {
            reflected.uvi[i] = fitted[l][i] * std::max(0.0, uvi[l][i] - uvi_direct[l][i]);
            reflected.warmth[i] = fitted[l][i] * std::max(0.0, warmth[l][i] - warmth_direct[l][i]);
        }
        all_direct.uvi += mean_of(uvi_direct[l]);
        all_direct.warmth += mean_of(warmth_direct[l]);
        all_reflected.uvi += mean_of(reflected.uvi);
        all_reflected.warmth += mean_of(reflected.warmth);
        correction_.push_back(fitted[l]);
        reflected_.push_back(std::move(reflected));
    }
    if (all_direct.uvi > 0) reflected_share_.uvi = all_reflected.uvi / all_direct.uvi;
    if (all_direct.warmth > 0) reflected_share_.warmth = all_reflected.warmth / all_direct.warmth;
}

const Glance::Tables& Glance::tables_for(const scene::Lamp& lamp, std::size_t index) const {
    static const Tables none;
    if (panes_->count() == 0) return none;
    const bool own = lamp.spectrum.relative.size() == 0;
    const spectrum::LampSpectrum& light = own ? spectra_[index] : lamp.spectrum;
    const std::lock_guard lock(tables_mutex_);
    auto [entry, fresh] = tables_.try_emplace(light.id.empty() ? "lamp " + lamp.id : light.id);
    if (fresh) {
        entry->second.uvi = light::pane_tables(*panes_, light.relative * spectrum::weight(Quantity::uvi));
        entry->second.warmth =
            light::pane_tables(*panes_, light.relative * spectrum::weight(Quantity::irradiance));
    }
    return entry->second;
}

Glance::LampLight Glance::light_of(const KernelLamp& lamp, const Tables& tables, const CompiledScene& scene,
                                   const Enclosure& enclosure, const PointSet& points) const {
    const std::size_t n = points.padded();
    LampLight light{std::vector<float>(n), std::vector<float>(n), std::vector<float>(n), {}, 0};
    light::KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    const auto run = [&](const std::vector<std::vector<float>>& by_pane, LampLight& into) {
        std::vector<light::KernelScreen> screens = scene.screens;
        for (std::size_t s = 0; s < screens.size() && !by_pane.empty(); ++s) {
            if (!std::holds_alternative<scene::Pane>(enclosure.screens[s].kind)) continue;
            const auto was = std::find(screen_ids_.begin(), screen_ids_.end(), enclosure.screens[s].id);
            const int pane = panes_->pane_of(static_cast<std::size_t>(was - screen_ids_.begin()));
            if (pane >= 0) screens[s].table = by_pane[static_cast<std::size_t>(pane)].data();
        }
        light::best_kernel()(scene.view(lamp, screens), lamp, in,
                             {into.x.data(), into.y.data(), into.z.data()}, 0, n);
    };
    if (panes_->count() > 0) {
        run(tables.warmth, light);
        light.up = light.z;
    }
    run(tables.uvi, light);
    if (panes_->count() == 0) light.up = light.z;
    double sum = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        sum += std::sqrt(
            static_cast<double>(light.x[i] * light.x[i] + light.y[i] * light.y[i] + light.z[i] * light.z[i]));
    }
    light.mean = sum / static_cast<double>(points.size());
    return light;
}

// A lamp of the base may have aged, been renewed or dimmed; one of another model brings its spectrum along.
Glance::Strength Glance::strength_of(const scene::Lamp& lamp, std::size_t index) const {
    if (lamp.spectrum.relative.size() > 0) {
        const double strength = light::strength(lamp);
        return {strength * spectrum::measure(lamp.spectrum.relative, Quantity::uvi),
                strength * spectrum::measure(lamp.spectrum.relative, Quantity::irradiance)};
    }
    const scene::Lamp& was = bare_.lamps[index];
    double ratio = lamp.age_factor / was.age_factor;
    if (!lamp.output.empty()) ratio *= lamp.output.front().value / was.output.front().value;
    return {ratio * strength_[index].uvi, ratio * strength_[index].warmth};
}

PointSet Glance::carried(const Enclosure& after, const std::vector<Change>& changes) const {
    std::vector<Vec3> points = points_;
    for (std::size_t s = 0; s < bare_.spots.size(); ++s) {
        points[s] += after.spots[s].position - bare_.spots[s].position;
    }
    for (const Change& change : changes) {
        if (change.kind != Change::Kind::move_furniture) continue;
        for (const scene::Furniture& piece : bare_.furniture) {
            if (piece.id != change.id) continue;
            for (std::size_t i = bare_.spots.size(); i < points.size(); ++i) {
                if (on_[i] == surface_name(piece)) points[i] += change.by;
            }
        }
    }
    return PointSet(points);
}

std::optional<Outlook> Glance::look(const std::vector<Change>& changes) const {
    const auto after = changed(bare_, changes);
    if (!after) return std::nullopt;
    const bool room = changes_room(changes);
    std::optional<CompiledScene> other_scene;
    std::optional<PointSet> other_points;
    if (room) {
        other_scene.emplace(*after);
        other_points.emplace(carried(*after, changes));
    }
    std::vector<LampLight> fresh;
    fresh.reserve(after->lamps.size());
    std::vector<Shown> shown;
    for (std::size_t l = 0; l < after->lamps.size(); ++l) {
        const scene::Lamp& lamp = after->lamps[l];
        const bool is_new = l >= light_.size();
        const bool touched = is_new || changes_lamp(changes, lamp.id);
        const Strength strength = touched ? strength_of(lamp, l) : strength_[l];
        const LampLight* light = is_new ? nullptr : &light_[l];
        if (touched || room) {
            std::optional<CompiledScene> own;
            if (touched) own.emplace(alone(lamp));
            fresh.push_back(light_of(own ? for_search(own->lamps.front()) : scene_.lamps[l],
                                     tables_for(lamp, l), room ? *other_scene : scene_, *after,
                                     room ? *other_points : *set_));
            light = &fresh.back();
        }
        double reflected = 1;
        if (touched && !is_new && strength_[l].uvi + strength_[l].warmth > 0 && light_[l].mean > 0) {
            reflected = (strength.uvi + strength.warmth) / (strength_[l].uvi + strength_[l].warmth) *
                        light->mean / light_[l].mean;
        }
        shown.push_back({light, strength, is_new ? -1 : static_cast<int>(l), reflected});
    }
    return sum(shown);
}

Outlook Glance::sum(const std::vector<Shown>& shown) const {
    constexpr std::size_t most_sets = 6;  // lamps of which every combination is tried
    Outlook outlook{std::vector<double>(points_.size()), std::vector<double>(points_.size())};
    std::vector<Vec3> flux;
    for (std::size_t i = 0; i < points_.size(); ++i) {
        flux.clear();
        double reflected = 0;
        for (const Shown& lamp : shown) {
            const auto l = static_cast<std::size_t>(std::max(0, lamp.as));
            const double correction = lamp.as < 0 ? 1.0 : correction_[l][i];
            const double up = std::max(0.0, static_cast<double>(lamp.light->up[i]));
            outlook.warmth[i] += lamp.strength.warmth * correction * up;
            if (lamp.as < 0) {
                outlook.warmth[i] += reflected_share_.warmth * lamp.strength.warmth * lamp.light->mean;
                reflected += reflected_share_.uvi * lamp.strength.uvi * lamp.light->mean;
            } else {
                outlook.warmth[i] += lamp.reflected * reflected_[l].warmth[i];
                reflected += lamp.reflected * reflected_[l].uvi[i];
            }
            const Vec3 here(static_cast<double>(lamp.light->x[i]), static_cast<double>(lamp.light->y[i]),
                            static_cast<double>(lamp.light->z[i]));
            const double scale = lamp.strength.uvi * correction;
            if (scale * here.squaredNorm() > 0) flux.emplace_back(scale * here);
        }
        // Of all lamps that give next to nothing beside the brightest, only the sum matters.
        double most = 0;
        for (const Vec3& f : flux) most = std::max(most, f.norm());
        double faint = 0;
        std::erase_if(flux, [&](const Vec3& f) {
            const bool is_faint = f.norm() < 0.01 * most;
            if (is_faint) faint += f.norm();
            return is_faint;
        });
        double aimed = 0;
        const std::size_t sets = std::size_t{1} << std::min(flux.size(), most_sets);
        for (std::size_t set = 1; set < sets; ++set) {
            Vec3 together = Vec3::Zero();
            for (std::size_t k = 0; k < std::min(flux.size(), most_sets); ++k) {
                if ((set >> k) & 1U) together += flux[k];
            }
            aimed = std::max(aimed, together.norm());
        }
        outlook.uvi[i] = aimed + 0.5 * faint + reflected;
    }
    return outlook;
}

Shortfall Glance::judge(const Outlook& outlook, const Trim& trim) const {
    if (trim.spots.empty()) return shortfall_of(outlook, animals_, options_.judge, options_.margin);
    Outlook trimmed = outlook;
    for (std::size_t i = 0; i < trimmed.uvi.size(); ++i) {
        trimmed.uvi[i] *= i < trim.spots.size() ? trim.spots[i] : trim.reach;
    }
    return shortfall_of(trimmed, animals_, options_.judge, options_.margin);
}

std::optional<Shortfall> Glance::at(const std::vector<Change>& changes, const Trim& trim) const {
    const auto outlook = look(changes);
    if (!outlook) return std::nullopt;
    return judge(*outlook, trim);
}

Trim Glance::trim(const Outlook& outlook, const husbandry::Judgement& found) const {
    const auto ratio = [](double is, double seemed) {
        constexpr double floor_uvi = 0.02;
        return std::clamp((is + floor_uvi) / (seemed + floor_uvi), 0.25, 4.0);
    };
    Trim trim;
    for (std::size_t s = 0; s < bare_.spots.size(); ++s) {
        trim.spots.push_back(ratio(found.spots[s].uvi, outlook.uvi[s]));
    }
    double is = 0;
    double seemed = 0;
    for (std::size_t a = 0; a < animals_.size(); ++a) {
        const auto highest = found.animals[a].reach.quantiles.find(1.0);
        if (highest == found.animals[a].reach.quantiles.end()) continue;
        is = std::max(is, highest->second);
        for (std::size_t i = 0; i < animals_[a].area.size(); ++i) {
            seemed = std::max(seemed, outlook.uvi[animals_[a].first + i]);
        }
    }
    trim.reach = ratio(is, seemed);
    return trim;
}

}  // namespace dapple::advice
