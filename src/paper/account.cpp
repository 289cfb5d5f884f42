#include "paper/account.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "husbandry/judging.h"
#include "inference/fit_judge.h"

namespace dapple::paper {

namespace {

using husbandry::AnimalJudgement;
using inference::Reading;
using scene::Vec3;
using spectrum::Quantity;

const scene::Place* spot_of(const scene::Enclosure& enclosure, const std::string& id) {
    for (const scene::Place& spot : enclosure.spots) {
        if (spot.id == id) return &spot;
    }
    return nullptr;
}

std::string name_of(const scene::Place& spot) {
    return spot.name.empty() ? spot.id : spot.name;
}

std::string place_of(const Reading& set, const scene::Enclosure& enclosure) {
    const scene::Place* spot = spot_of(enclosure, set.spot);
    if (spot != nullptr) return name_of(*spot);
    if (!set.spot.empty()) return set.spot;
    return fmt::format("{:.0f}, {:.0f}, {:.0f} cm", 100 * set.point.x(), 100 * set.point.y(),
                       100 * set.point.z());
}

std::string called(const AnimalJudgement& animal) {
    const auto& names = animal.species.common_names;
    return names.empty() ? animal.species.scientific_name : names.front();
}

bool is_aimed_uvi(const Reading& set) {
    return set.quantity == Quantity::uvi && light::to_text(set.facing) == light::to_text(light::Facing{});
}

// The first animal the spot is meant for that has a band.
const AnimalJudgement* whose(const scene::Place& spot, const EnclosureAccount& account) {
    for (const AnimalJudgement& animal : account.judgement->animals) {
        if (animal.band && husbandry::belongs_to(spot, animal)) return &animal;
    }
    return nullptr;
}

bool in_band(husbandry::State state) {
    return state != husbandry::State::below && state != husbandry::State::above;
}

// Through the first basking spot, at the height of the animal's back; else through the middle.
Vec3 centre_of_interest(const EnclosureAccount& account) {
    for (const scene::Place& spot : account.enclosure->spots) {
        if (spot.role == scene::Role::bask) return husbandry::reading_point(spot, account.judgement->animals);
    }
    return account.enclosure->size / 2;
}

void cut_slices(EnclosureAccount& account, const UviAt& uvi) {
    const Vec3 through = centre_of_interest(account);
    account.slices = {slice_of(*account.enclosure, Cut::plan, through.z(), uvi),
                      slice_of(*account.enclosure, Cut::section, through.y(), uvi)};
}

std::shared_ptr<const light::Field> judge_fitted_into(EnclosureAccount& account,
                                                      const std::vector<Reading>& sets) {
    const auto fit = inference::fit(*account.enclosure, sets);
    auto judgement = inference::judge_fitted(fit);
    if (!judgement) {
        account.problems = judgement.error();
        return nullptr;
    }
    account.judgement = std::move(*judgement);
    std::set<std::string> days;
    for (const Reading& set : sets) days.insert(set.date.substr(0, 10));
    account.fitted_from.assign(days.begin(), days.end());
    cut_slices(account, [&](std::span<const Vec3> points) {
        const auto response = fit.response->at(points, Quantity::uvi, {}, false);
        return fit.response->values(response, fit.mean.data());
    });
    for (const auto& aside : fit.set_aside) {
        const Reading& set = sets[aside.index];
        for (ReadingRow& row : account.readings) {
            if (row.day == set.date.substr(0, 10) && row.where == place_of(set, *account.enclosure) &&
                row.quantity == set.quantity && row.values == set.values)
                row.remark = "left out of the fit: " + aside.why;
        }
    }
    return {fit.response, &fit.response->field()};
}

std::shared_ptr<const light::Field> judge_computed_into(EnclosureAccount& account) {
    auto animals = husbandry::resolve_animals(*account.enclosure);
    if (!animals) {
        account.problems = animals.error();
        return nullptr;
    }
    auto field = std::make_shared<const light::Field>(*account.enclosure);
    account.judgement =
        husbandry::judge_in(husbandry::light_of(*field), *account.enclosure, std::move(*animals));
    cut_slices(account, [&](std::span<const Vec3> points) { return field->values(points, Quantity::uvi); });
    return field;
}

}  // namespace

ReadingRow row_of(const Reading& set, const EnclosureAccount& account) {
    return {set.date.substr(0, 10),
            account.enclosure ? place_of(set, *account.enclosure) : set.spot,
            set.quantity,
            set.values,
            set.value,
            set.scatter,
            set.meter,
            std::nullopt,
            ""};
}

std::shared_ptr<const light::Field> judge_into(EnclosureAccount& account, const std::vector<Reading>& sets) {
    auto field = sets.empty() ? judge_computed_into(account) : judge_fitted_into(account, sets);
    if (!account.judgement) return nullptr;
    for (ReadingRow& row : account.readings) {
        for (const scene::Place& spot : account.enclosure->spots) {
            if (name_of(spot) != row.where || row.quantity != Quantity::uvi) continue;
            if (const AnimalJudgement* animal = whose(spot, account))
                row.state = husbandry::state_of(row.value, *animal->band);
        }
    }
    return field;
}

std::vector<Standing> standings_of(const std::vector<Reading>& sets, const EnclosureAccount& account) {
    std::vector<Standing> standings;
    if (!account.enclosure || !account.judgement) return standings;
    for (const scene::Place& spot : account.enclosure->spots) {
        const AnimalJudgement* animal = whose(spot, account);
        if (spot.role != scene::Role::bask || animal == nullptr) continue;
        std::optional<Standing> standing;
        for (const Reading& set : sets) {
            if (set.spot != spot.id || !is_aimed_uvi(set)) continue;
            const std::string day = set.date.substr(0, 10);
            const husbandry::State state = husbandry::state_of(set.value, *animal->band);
            if (!standing) {
                standing = Standing{called(*animal), name_of(spot), state, set.value, day, day, true};
                continue;
            }
            if (in_band(state) != in_band(standing->state)) {
                standing->since = day;
                standing->since_first = false;
            }
            standing->state = state;
            standing->value = set.value;
            standing->read = day;
        }
        if (standing) standings.push_back(*standing);
    }
    return standings;
}

}  // namespace dapple::paper
