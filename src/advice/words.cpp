#include "advice/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

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

// Basking spots first; only readings that a meter would tell apart.
std::string readings(const Enclosure& enclosure, const husbandry::Judgement& before,
                     const husbandry::Judgement& after) {
    std::string basking;
    std::string others;
    for (std::size_t i = 0; i < std::min(before.spots.size(), after.spots.size()); ++i) {
        const double was = before.spots[i].uvi;
        const double is = after.spots[i].uvi;
        if (std::abs(is - was) < 0.05) continue;
        std::string& list = enclosure.spots[i].role == scene::Role::bask ? basking : others;
        list += fmt::format(", {} {:.1f} -> {:.1f}", before.spots[i].name, was, is);
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
        case Change::Kind::remove_screen:
            return taken_out(change.id, enclosure);
    }
    return {};
}

std::string words_of(const std::vector<Change>& changes, const Enclosure& before_change,
                     const husbandry::Judgement& before, const husbandry::Judgement& after) {
    std::string words;
    for (const Change& change : changes) {
        words += (words.empty() ? "" : "; ") + instruction(change, before_change);
    }
    const std::string numbers = readings(before_change, before, after);
    if (!numbers.empty()) words += ": " + numbers;
    const auto worse = worsened(before, after, before_change);
    auto still = still_failing(before, after);
    std::erase_if(still, [&](const std::string& reason) {
        return std::find(worse.begin(), worse.end(), reason) != worse.end();
    });
    // Where the basking spots do not show what is gained, it has to be said.
    const auto gained =
        numbers.empty() || !still.empty() ? mended(before, after) : std::vector<std::string>{};
    if (!gained.empty() || !worse.empty() || !still.empty()) words += ".";
    words += listed("Then:", gained);
    return words + listed("Still wrong:", still) + listed("Worse than before:", worse);
}

}  // namespace dapple::advice
