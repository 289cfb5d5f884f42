// How long a person waits for fixes: every example, as it stands and with its UV lamps at half strength. For each the
// time to the first fix that was judged in full, and to the whole answer; then glances a second.
// Usage: bench_fixes
#include <fmt/format.h>

#include <chrono>
#include <filesystem>

#include "advice/fix.h"
#include "advice/scan.h"
#include "pairs.h"
#include "scene/document.h"

namespace {

using namespace dapple;

void time_fixes(const std::string& name, const scene::Enclosure& enclosure) {
    double first = 0;
    const auto start = std::chrono::steady_clock::now();
    const auto elapsed = [&] {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    };
    advice::FixOptions options;
    options.found = [&](const advice::Fix&) { first = first > 0 ? first : elapsed(); };
    const auto found = advice::search_fixes(enclosure, options);
    const double whole = elapsed();
    if (!found) {
        fmt::print("{:30} {}\n", name, to_text(found.error()));
        return;
    }
    std::size_t cures = 0;
    for (const auto& fix : found->fixes) cures += fix.remaining.empty() && fix.worsened.empty() ? 1 : 0;
    fmt::print(
        "{:30} first {:5.2f} s, all {:5.2f} s; {:6} glances at {:3} places, {:2} judged; {} fixes, {} cure\n",
        name, first, whole, found->glances, found->places, found->judged, found->fixes.size(), cures);
}

void time_glances(const std::string& name, const scene::Enclosure& enclosure) {
    const auto animals = husbandry::resolve_animals(enclosure);
    if (!animals) return;
    const light::Field field(enclosure);
    field.values(std::vector<scene::Vec3>{0.5 * enclosure.size}, spectrum::Quantity::uvi);
    const double building = bench::seconds([&] { const advice::Glance glance(field, *animals, {}, {}); });
    const advice::Glance glance(field, *animals, {}, {});
    const advice::FixOptions options;
    advice::Scan scan(enclosure, glance, options);
    const double singles = bench::seconds([&] { scan.singles(); });
    const std::size_t of_singles = scan.glances();
    const double pairs = bench::seconds([&] { scan.pairs(1e9); });
    fmt::print(
        "{:30} glance built {:.3f} s; singles {:6} in {:.2f} s, {:6.0f}/s; pairs {:6} in {:.2f} s, "
        "{:6.0f}/s\n",
        name, building, of_singles, singles, static_cast<double>(of_singles) / singles,
        scan.glances() - of_singles, pairs, static_cast<double>(scan.glances() - of_singles) / pairs);
}

}  // namespace

int main() {
    std::vector<std::pair<std::string, scene::Enclosure>> all;
    for (const auto& entry : std::filesystem::directory_iterator(DAPPLE_ROOT "/examples")) {
        if (entry.path().extension() != ".json") continue;
        auto enclosure = scene::load_enclosure(entry.path().string());
        if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
        all.emplace_back(entry.path().stem().string(), *enclosure);
        for (auto& lamp : enclosure->lamps) lamp.age_factor *= 0.5;
        all.emplace_back(entry.path().stem().string() + ", lamps at half", *enclosure);
    }
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [name, enclosure] : all) time_fixes(name, enclosure);
    for (const auto& [name, enclosure] : all) time_glances(name, enclosure);
    return 0;
}
