// Candidates a second on one core: a moved lamp and a moved ledge, 16 aimed receivers, an enclosure with a tube and a
// spot among 12, 25 and 50 pieces of furniture. Usage: bench_what_if
#include "light/what_if.h"

#include <fmt/format.h>

#include <memory>
#include <random>

#include "pairs.h"

namespace {

using namespace dapple;
using scene::Vec3;

scene::Enclosure room(int pieces, unsigned seed) {
    scene::Enclosure enclosure;
    enclosure.size = Vec3(1.2, 0.6, 0.6);
    scene::Lamp tube;
    tube.centre = Vec3(0.6, 0.3, 0.56);
    tube.shape = scene::Tube{0.85, 0.016, Vec3::UnitX(), -Vec3::UnitZ(), 2, false};
    tube.spectrum = *spectrum::find_lamp_spectrum("fluorescent_uvb_strong");
    tube.output = {{spectrum::Quantity::uvi, 5, 0.3}};
    scene::Lamp spot = tube;
    spot.centre = Vec3(0.3, 0.3, 0.58);
    spot.shape = scene::Spot{0, 5, 1, -Vec3::UnitZ(), std::nullopt};
    spot.spectrum = *spectrum::find_lamp_spectrum("mercury_vapour");
    enclosure.lamps = {tube, spot};
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> u(0, 1);
    for (int i = 0; i < pieces; ++i) {
        const Vec3 centre(1.2 * u(random), 0.6 * u(random), 0.35 * u(random));
        const Vec3 half(0.02 + 0.04 * u(random), 0.02 + 0.04 * u(random), 0.01 + 0.03 * u(random));
        scene::Furniture piece;
        piece.shape = scene::BoxShape{{centre - half, centre + half}, Vec3::Zero()};
        enclosure.furniture.push_back(piece);
    }
    return enclosure;
}

}  // namespace

int main() {
    constexpr int candidates = 2000;
    for (const int pieces : {12, 25, 50}) {
        const auto enclosure = room(pieces, 3);
        std::mt19937 random(9);
        std::uniform_real_distribution<double> u(0, 1);
        std::vector<Vec3> receivers;
        for (int i = 0; i < 16; ++i)
            receivers.emplace_back(1.2 * u(random), 0.6 * u(random), 0.45 * u(random));
        light::WhatIf what_if(enclosure, receivers, spectrum::Quantity::uvi);
        const auto carried = std::make_unique<bool[]>(16);
        carried[0] = carried[1] = true;
        double sink = 0;
        const auto t = bench::in_turn(
            {[&] {
                 for (int i = 0; i < candidates; ++i) {
                     sink += what_if.with_lamp_at(0, Vec3(0.5 + 1e-4 * i, 0.3, 0.5))[3];
                 }
             },
             [&] {
                 for (int i = 0; i < candidates; ++i) {
                     sink += what_if.with_furniture_moved(0, Vec3(0, 0, 1e-5 * i), {carried.get(), 16})[3];
                 }
             }},
            15);
        fmt::print(
            "{:3} pieces, 16 receivers, 2 lamps: moved lamp {:.0f} candidates/s a core, moved ledge {:.0f}  "
            "({:.3g})\n",
            pieces, candidates / t[0], candidates / t[1], sink);
    }
    return 0;
}
