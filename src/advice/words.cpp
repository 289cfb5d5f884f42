#include "advice/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>

#include "advice/lamps.h"
#include "advice/standing.h"

namespace dapple::advice {

using scene::Enclosure;
using scene::Vec3;

namespace {

// "Flat stone" -> "the flat stone"; "UV tube" keeps its capitals.
std::string the(const std::string& name) {
    std::string word = name;
    const auto letter = [&](std::size_t i) { return static_cast<unsigned char>(word[i]); };
    if (word.size() > 1 && std::isupper(letter(0)) && !std::isupper(letter(1))) {
        word[0] = static_cast<char>(std::tolower(letter(0)));
    }
    return word.starts_with("the ") ? word : "the " + word;
}

template <class Thing>
std::string name_of(const std::vector<Thing>& things, const std::string& id) {
    const auto found = std::find_if(things.begin(), things.end(), [&](const Thing& t) { return t.id == id; });
    return the(found == things.end() || found->name.empty() ? id : found->name);
}

std::string centimetres(double metres) {
    const double cm = std::abs(metres) * 100;
    return std::abs(cm - std::round(cm)) < 0.05 ? fmt::format("{:.0f} cm", cm) : fmt::format("{:.1f} cm", cm);
}

// "Raise the flat stone 6 cm"; along several axes at once: "Raise the lamp 6 cm and move it 4 cm to the
// left".
std::string moved(const std::string& what, const Vec3& by) {
    constexpr double nothing = 5e-4;
    std::string words;
    const auto add = [&](const std::string& verb, const std::string& distance) {
        if (words.empty()) {
            words = fmt::format("{} {} {}", verb, what, distance);
        } else {
            words += " and move it " + distance;
        }
    };
    if (std::abs(by.z()) > nothing) add(by.z() > 0 ? "Raise" : "Lower", centimetres(by.z()));
    if (std::abs(by.x()) > nothing) {
        add("Move", centimetres(by.x()) + (by.x() > 0 ? " to the right" : " to the left"));
    }
    if (std::abs(by.y()) > nothing) {
        add("Move", centimetres(by.y()) + (by.y() > 0 ? " towards the back" : " towards the front"));
    }
    return words;
}

bool closes_the_top(const scene::Screen& screen, const Enclosure& enclosure) {
    const Vec3 extent = screen.box.max - screen.box.min;
    return screen.normal_axis == 2 && screen.box.max.z() > enclosure.size.z() - 0.01 &&
           extent.x() * extent.y() > 0.2 * enclosure.size.x() * enclosure.size.y();
}

std::string taken_out(const std::string& id, const Enclosure& enclosure) {
    const std::string words = "Take out " + name_of(enclosure.screens, id);
    const auto screen = std::find_if(enclosure.screens.begin(), enclosure.screens.end(),
                                     [&](const scene::Screen& s) { return s.id == id; });
    const bool lid = screen != enclosure.screens.end() && closes_the_top(*screen, enclosure);
    return lid ? words + " (and close the top in another way)" : words;
}

// "Tilt the heat lamp 15 degrees to the left"
std::string tilted(const std::string& what, const Vec3& by) {
    const double degrees = by.norm() * 180 / std::numbers::pi;
    const bool sideways = std::abs(by.x()) > std::abs(by.y());
    const char* way = sideways ? (by.x() > 0 ? "to the right" : "to the left")
                               : (by.y() > 0 ? "towards the back" : "towards the front");
    return fmt::format("Tilt {} {:.0f} degrees {}", what, degrees, way);
}

std::string millimetres(double metres) {
    return fmt::format("{:.3g}", metres * 1000);
}

std::string rewoven(const Change& change, const Enclosure& enclosure) {
    const auto screen = std::find_if(enclosure.screens.begin(), enclosure.screens.end(),
                                     [&](const scene::Screen& s) { return s.id == change.id; });
    const auto* mesh = screen == enclosure.screens.end() ? nullptr : std::get_if<scene::Mesh>(&screen->kind);
    const bool coarser = mesh == nullptr || open_share(change.mesh) > open_share(*mesh);
    return fmt::format("Exchange {} for a {} mesh ({} mm wire every {} mm)",
                       name_of(enclosure.screens, change.id), coarser ? "more open" : "denser",
                       millimetres(change.mesh.wire), millimetres(change.mesh.pitch));
}

std::string model_name(const std::string& id) {
    const LampModel* model = find_lamp_model(id);
    return model == nullptr ? id : model->name;
}

std::string place(const Vec3& at) {
    return fmt::format("{:.0f} cm from the left, {:.0f} cm from the front, {:.0f} cm up", 100 * at.x(),
                       100 * at.y(), 100 * at.z());
}

// "3.1 -> 4.9", with its 90 % interval where readings tell it.
std::string reading(const husbandry::SpotReading& before, const husbandry::SpotReading& after) {
    std::string text = fmt::format(", {} {:.1f} -> {:.1f}", before.name, before.uvi, after.uvi);
    if (after.interval)
        text += fmt::format(" ({:.1f}-{:.1f})", after.interval->first, after.interval->second);
    return text;
}

// Basking spots first; only readings that a meter would tell apart.
std::string readings(const Enclosure& enclosure, const husbandry::Judgement& before,
                     const husbandry::Judgement& after) {
    std::string basking;
    std::string others;
    for (std::size_t i = 0; i < std::min(before.spots.size(), after.spots.size()); ++i) {
        if (std::abs(after.spots[i].uvi - before.spots[i].uvi) < 0.05) continue;
        std::string& list = enclosure.spots[i].role == scene::Role::bask ? basking : others;
        list += reading(before.spots[i], after.spots[i]);
    }
    const std::string all = basking + others;
    return all.empty() ? "" : all.substr(2) + " UVI";
}

// Reasons are sentences of the verdict; they are strung together as such.
std::string listed(const std::string& opening, const std::vector<std::string>& reasons) {
    std::string text;
    for (const std::string& reason : reasons) {
        text += fmt::format("{}{}", text.empty() ? " " + opening + " " : " ", reason);
        if (!text.ends_with('.')) text += '.';
    }
    return text;
}

}  // namespace

std::string instruction(const Change& change, const Enclosure& enclosure) {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            return moved(name_of(enclosure.furniture, change.id), change.by);
        case Change::Kind::move_lamp:
            return moved(name_of(enclosure.lamps, change.id), change.by);
        case Change::Kind::swap_lamps:
            return fmt::format("Swap the places of {} and {}", name_of(enclosure.lamps, change.id),
                               name_of(enclosure.lamps, change.other));
        case Change::Kind::tilt_lamp:
            return tilted(name_of(enclosure.lamps, change.id), change.by);
        case Change::Kind::dim_lamp:
            return fmt::format("Dim {} to {:.0f} %", name_of(enclosure.lamps, change.id),
                               100 * change.factor);
        case Change::Kind::remove_screen:
            return taken_out(change.id, enclosure);
        case Change::Kind::replace_screen:
            return rewoven(change, enclosure);
        case Change::Kind::thin_foliage:
            return fmt::format("Thin {} to {:.0f} % of its leaves", name_of(enclosure.foliage, change.id),
                               100 * change.factor);
        case Change::Kind::renew_lamp:
            return fmt::format("Put a new lamp of the same kind in place of {}",
                               name_of(enclosure.lamps, change.id));
        case Change::Kind::replace_lamp:
            return fmt::format("Put a {} in place of {}", model_name(change.other),
                               name_of(enclosure.lamps, change.id));
        case Change::Kind::add_lamp:
            return fmt::format("Add a {}, {}", model_name(change.other), place(change.by));
        case Change::Kind::add_shade:
            return fmt::format("Set up a piece of cork bark as a roof, {}", place(change.by));
    }
    return {};
}

std::string words_of(const Fix& fix, const Enclosure& before_change) {
    std::string words;
    for (const Change& change : fix.changes) {
        std::string one = instruction(change, before_change);
        if (!words.empty()) one[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(one[0])));
        words += (words.empty() ? "" : "; and ") + one;
    }
    const std::string numbers = readings(before_change, fix.before, fix.after);
    if (!numbers.empty()) words += ": " + numbers;
    // Where the basking spots do not show what is gained, it has to be said.
    const auto gained = numbers.empty() || !fix.remaining.empty() ? mended(fix.before, fix.after)
                                                                  : std::vector<std::string>{};
    if (!gained.empty() || !fix.worsened.empty() || !fix.remaining.empty() || !fix.warmed.empty())
        words += ".";
    words += listed("Then:", gained);
    return words + listed("Still wrong:", fix.remaining) + listed("Worse than before:", fix.worsened) +
           listed("Mind the warmth:", fix.warmed);
}

}  // namespace dapple::advice
