// Enclosures with one planted fault each, and the change that takes it back. Sizes, lamps and places are drawn at random;
// before the fault is planted everything holds, after it something fails.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>

#include "advice/fix.h"
#include "advice/pens.h"
#include "husbandry/verdict.h"

namespace dapple::tests {

enum class Fault { lamp_too_far, heat_and_uv_apart, mesh_too_fine, foliage_grown_in, lamp_aged };
inline constexpr std::array faults = {Fault::lamp_too_far, Fault::heat_and_uv_apart, Fault::mesh_too_fine,
                                      Fault::foliage_grown_in, Fault::lamp_aged};
inline const char* name_of(Fault fault) {
    constexpr std::array names = {"lamp too far", "heat and UV apart", "mesh too fine", "foliage grown in",
                                  "lamp aged"};
    return names.at(static_cast<std::size_t>(fault));
}

struct Planted {
    scene::Enclosure enclosure;  // with the fault
    double effort_of_the_cure;   // minutes, of taking the fault back
};

inline bool everything_holds(const scene::Enclosure& enclosure) {
    const auto judgement = husbandry::judge(enclosure);
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return std::all_of(judgement->animals.begin(), judgement->animals.end(),
                       [](const auto& animal) { return animal.verdict.overall.holds == true; });
}

// A pen with a UV tube and a halogen over a stone, a shelter at the other end, leaves in the middle, a wide mesh lid.
inline nlohmann::json sound_pen(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::round(std::uniform_real_distribution<double>(low, high)(random));
    };
    const double w = between(90, 150);
    const double d = between(45, 70);
    const double h = between(50, 70);
    const double x = between(24, 36);
    const double y = between(20, d - 22);
    const double stone = between(8, 20);
    const double length = between(25, 2 * x - 4);
    nlohmann::json pen = nlohmann::json::parse(R"({"format": "dapple/enclosure@1", "id": "planted"})");
    constexpr std::array materials = {"black", "wood", "pvc_white", "cork_bark"};
    const auto wall = [&] { return materials.at(std::uniform_int_distribution<std::size_t>(0, 3)(random)); };
    pen["size_cm"] = {w, d, h};
    pen["walls"] = {{"floor", "dry_sand"},
                    {"left", wall()},
                    {"right", wall()},
                    {"back", wall()},
                    {"front", "float_glass"}};
    pen["animals"] = {{{"species", "crotaphytus_collaris"},
                       {"back_height_cm", 4},
                       {"climbs", false},
                       {"band", {2.9, 7.4}}}};
    pen["lamps"] = {{{"id", "uv"},
                     {"name", "UV tube"},
                     {"kind", "tube"},
                     {"length_cm", length},
                     {"centre_cm", {x, y, h + 2}},
                     {"spread", {{"forward_power", 2}}},
                     {"spectrum", "fluorescent_uvb_strong"},
                     {"output", {{"uvi", between(50, 75) / 10}, {"at_cm", 30}}},
                     {"power_w", 39}},
                    {{"id", "heat"},
                     {"name", "Halogen"},
                     {"kind", "spot"},
                     {"diameter_cm", 9},
                     {"beam_deg", 45},
                     {"centre_cm", {x, y + 8, h + 3}},
                     {"spectrum", "halogen"},
                     {"output", {{"lux", 24000}, {"at_cm", 30}}},
                     {"power_w", 90}}};
    pen["screens"] = {{{"id", "lid"},
                       {"name", "Mesh lid"},
                       {"min_cm", {0, 0, h}},
                       {"max_cm", {w, d, h}},
                       {"mesh", {{"pitch_mm", 12.7}, {"wire_mm", 1}}}}};
    pen["furniture"] = {{{"id", "stone"},
                         {"name", "Flat stone"},
                         {"shape", "box"},
                         {"min_cm", {x - 10, y - 10, 0}},
                         {"max_cm", {x + 10, y + 10, stone}},
                         {"material", "slate"},
                         {"perch", true}},
                        {{"id", "roof"},
                         {"name", "Shelter"},
                         {"shape", "box"},
                         {"min_cm", {w - 38, 2, 12}},
                         {"max_cm", {w - 1, d - 2, 14}},
                         {"material", "bark"}},
                        {{"id", "bush"},
                         {"name", "Bush"},
                         {"shape", "foliage"},
                         {"min_cm", {x - 12, y - 12, stone + 12}},
                         {"max_cm", {x + 12, y + 12, h - 8}},
                         {"leaf_area_density", 0.3}}};
    pen["spots"] = {
        {{"id", "bask"}, {"name", "Flat stone"}, {"position_cm", {x, y, stone}}, {"role", "bask"}},
        {{"id", "cool"}, {"name", "Cool end"}, {"position_cm", {w - 15, d / 2, 0}}, {"role", "retreat"}}};
    return pen;
}

// Nothing where what was drawn is unsound to begin with, or where the fault does no harm.
inline std::optional<Planted> planted(Fault fault, std::mt19937& random) {
    using advice::Change;
    const nlohmann::json sound = sound_pen(random);
    const auto uniform = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    nlohmann::json document = sound;
    std::vector<Change> cure;
    nlohmann::json& uv = document["lamps"][0];
    if (fault == Fault::lamp_too_far) {
        const double by = std::round(uniform(8, 25));
        uv["centre_cm"][2] = uv["centre_cm"][2].get<double>() + by;
        cure = {{Change::Kind::move_lamp, "uv", "", -0.01 * by * scene::Vec3::UnitZ()}};
    } else if (fault == Fault::heat_and_uv_apart) {
        nlohmann::json& heat = document["lamps"][1];
        const double by = std::round(uniform(30, 55));
        heat["centre_cm"][0] = heat["centre_cm"][0].get<double>() + by;
        cure = {{Change::Kind::move_lamp, "heat", "", -0.01 * by * scene::Vec3::UnitX()}};
    } else if (fault == Fault::mesh_too_fine) {
        document["screens"][0]["mesh"] = {{"pitch_mm", 1.6}, {"wire_mm", uniform(0.35, 0.6)}};
        Change coarser = {Change::Kind::replace_screen, "lid", ""};
        coarser.mesh = {0.0127, 0.001};
        cure = {coarser};
    } else if (fault == Fault::foliage_grown_in) {
        const double density = uniform(3, 9);
        document["furniture"][2]["leaf_area_density"] = density;
        Change thin = {Change::Kind::thin_foliage, "bush", ""};
        thin.factor = 0.3 / density;
        cure = {thin};
    } else {
        uv["age_factor"] = uniform(0.3, 0.6);
        cure = {{Change::Kind::renew_lamp, "uv", ""}};
    }
    const scene::Enclosure faulty = parse(document);
    if (!everything_holds(parse(sound)) || everything_holds(faulty)) return std::nullopt;
    return Planted{faulty, advice::minutes(cure, {})};
}

// Is one of the first three fixes a cure that is no dearer than taking the fault back?
inline bool is_found(const std::vector<advice::Fix>& fixes, const Planted& planted) {
    const auto end = fixes.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(3, fixes.size()));
    return std::any_of(fixes.begin(), end, [&](const advice::Fix& fix) {
        return fix.remaining.empty() && fix.worsened.empty() &&
               fix.effort <= planted.effort_of_the_cure + 1e-9;
    });
}

}  // namespace dapple::tests
