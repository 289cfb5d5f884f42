// Warmth: how fast it is and how far each assumption moves a temperature; the tables of docs/warmth.md and of
// bench/README.md.   bench_warmth DOCUMENT...
#include "warmth/warmth.h"

#include <fmt/format.h>

#include <chrono>

#include "husbandry/reach.h"
#include "scene/document.h"
#include "warmth/convection.h"

namespace {

using namespace dapple;

template <class Work>
double milliseconds(const Work& work, int rounds) {
    double best = 1e9;
    for (int i = 0; i < rounds; ++i) {
        const auto start = std::chrono::steady_clock::now();
        work();
        const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
        best = std::min(best, took.count());
    }
    return best;
}

void print_sensitivities(const scene::Enclosure& enclosure, const light::Field& field) {
    const auto report = warmth::report(field);
    const warmth::Balance& b = report.balance;
    fmt::print(
        "\n{}: in {:.0f} W; out through walls {:.0f}, with the air {:.0f}, radiated {:.0f}; books open by "
        "{:.1e}; "
        "air {:.1f} C below, {:.1f} above; {:.1f} l/s exchanged\n",
        enclosure.name, b.in_w, b.walls_w, b.air_w, b.radiated_w, b.closed(), b.lower_k - warmth::zero_c,
        b.upper_k - warmth::zero_c, 1000 * b.flow);
    for (const auto& spot : report.spots) {
        fmt::print(
            "  {:<24} surface {:.1f} C ({:.1f}-{:.1f}), air {:.1f} C ({:.1f}-{:.1f}), night {:.1f} C\n",
            spot.name, spot.surface_c, spot.interval.first, spot.interval.second, spot.air_c,
            spot.air_interval.first, spot.air_interval.second, spot.night_c);
    }
    for (const std::string& note : report.notes) fmt::print("  {}\n", note);
    fmt::print("  {:<44} {:>5}  surface K (air K) by spot\n", "assumption", "sd");
    for (const auto& s : report.by_assumption) {
        fmt::print("  {:<44} {:>5.2f} ", s.assumption.words, s.assumption.sd);
        for (std::size_t i = 0; i < s.surface_k.size(); ++i) {
            fmt::print(" {:+.1f} ({:+.1f})", s.surface_k[i], s.air_k[i]);
        }
        fmt::print("\n");
    }
}

void print_times(const scene::Enclosure& enclosure, const light::Field& field) {
    const auto reach = husbandry::reach_of(enclosure, 0.04, false);
    std::vector<warmth::Spot> places;
    for (const auto& feet : reach.feet) places.push_back({feet});
    const auto spots = warmth::spots_of(enclosure);
    fmt::print(
        "  over reach ({} places) {:.2f} ms; light alone {:.2f} ms; a glance at {} spots {:.2f} ms; a report "
        "{:.1f} ms\n",
        places.size(), milliseconds([&] { warmth::Warmth(field, places).at_spots(); }, 20),
        milliseconds(
            [&] { field.values_by_lamp(reach.feet, spectrum::Quantity::irradiance, light::Facing::up()); },
            20),
        spots.size(), milliseconds([&] { warmth::glance(enclosure); }, 20),
        milliseconds([&] { warmth::report(field); }, 5));
}

}  // namespace

int main(int argc, char** argv) {
    for (int i = 1; i < argc; ++i) {
        const auto enclosure = scene::load_enclosure(argv[i]);
        if (!enclosure) {
            fmt::print(stderr, "{}", to_text(enclosure.error()));
            return 2;
        }
        const light::Field field(*enclosure);
        print_sensitivities(*enclosure, field);
        print_times(*enclosure, field);
    }
}
