// What a field costs a person who waits: opening it, a listed point, a grid of 24,000 points direct and with reflected
// light, and the error of the grid against listed points. Usage:
//
//   bench_field [ENCLOSURE.json ...]
//   bench_field ENCLOSURE.json POINTS.f32   UVB at these points (float32 x, y, z in cm) with two reflections: opening and
//                                           field together, as a program does that starts from the document
//                                           (reference/peers/ratios.py runs it)
#include "light/field.h"

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <random>

#include "light/body.h"
#include "light/embree.h"
#include "pairs.h"
#include "scene/document.h"

namespace {

using namespace dapple;
using scene::Vec3;
using spectrum::Quantity;

std::vector<Vec3> free_points(const scene::Enclosure& enclosure, std::size_t count) {
    std::vector<light::Body> bodies;
    for (const auto& piece : enclosure.furniture) {
        if (const auto body = light::make_body(piece, -0.01)) bodies.push_back(*body);
    }
    std::mt19937 random(4);
    std::uniform_real_distribution<double> u(0, 1);
    std::vector<Vec3> points;
    while (points.size() < count) {
        const Vec3 p(enclosure.size.x() * u(random), enclosure.size.y() * u(random),
                     0.8 * enclosure.size.z() * u(random));
        bool inside = false;
        for (const auto& body : bodies) inside |= light::contains(body, p);
        if (!inside) points.push_back(p);
    }
    return points;
}

void measure(const scene::Enclosure& enclosure) {
    const auto grid = free_points(enclosure, 24000);
    const auto listed = free_points(enclosure, 64);
    fmt::print("{}: {} lamps, {} pieces of furniture, {} screens\n", enclosure.id, enclosure.lamps.size(),
               enclosure.furniture.size(), enclosure.screens.size());
    for (const int bounces : {0, 2, -1}) {
        const light::Field field(enclosure, {bounces});
        double sink = 0;
        Vec3 new_place = listed[0];  // what was asked before is remembered
        const auto next_place = [&] { return new_place += Vec3::Constant(1e-6); };
        const double first = bench::seconds(
            [&] { sink += light::Field(enclosure, {bounces}).values(listed, Quantity::uvb)[0]; });
        const auto t =
            bench::in_turn({[&] { sink += field.at(next_place()).measure(Quantity::uvi); },
                            [&] { sink += field.values(grid, Quantity::uvi, light::Facing::up())[0]; },
                            [&] { sink += field.values(grid, Quantity::uvi)[0]; },
                            [&] { sink += field.values(grid, Quantity::lux, light::Facing::up())[0]; }},
                           5);
        fmt::print(
            "  bounces {:2}: opening and 64 points {:.0f} ms, a listed point {:.1f} ms; 24,000 points UVI up "
            "{:.1f} ms, aimed "
            "{:.1f} ms, lux up {:.1f} ms",
            bounces, 1e3 * first, 1e3 * t[0], 1e3 * t[1], 1e3 * t[2], 1e3 * t[3]);
        for (const Quantity quantity : {Quantity::uvb, Quantity::lux}) {
            const auto many = field.values(listed, quantity, light::Facing::up());
            double mean = 0, square = 0;
            for (std::size_t i = 0; i < listed.size(); ++i) {
                const double one = field.at(listed[i], light::Facing::up()).measure(quantity);
                mean += one / static_cast<double>(listed.size());
                square += std::pow(many[i] - one, 2) / static_cast<double>(listed.size());
            }
            fmt::print("; {} error {:.2f} %", spectrum::name(quantity), 100 * std::sqrt(square) / mean);
        }
        fmt::print("  ({:.3g})\n", sink);
    }
}

std::vector<Vec3> points_of(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::vector<Vec3> points;
    float cm[3];
    while (in.read(reinterpret_cast<char*>(cm), sizeof cm)) {
        points.emplace_back(static_cast<double>(cm[0]) / 100, static_cast<double>(cm[1]) / 100,
                            static_cast<double>(cm[2]) / 100);
    }
    return points;
}

void measure_whole(const scene::Enclosure& enclosure, const std::vector<Vec3>& points) {
    const light::FieldOptions two{2};
    std::vector<double> values;
    const auto t = bench::in_turn(
        {[&] { values = light::Field(enclosure, two).values(points, Quantity::uvb, light::Facing::up()); }},
        9);
    const light::Field field(enclosure, two);
    double mean = 0, square = 0;
    int count = 0;
    for (std::size_t i = 7; i < points.size(); i += 97, ++count) {
        const double one = field.at(points[i], light::Facing::up()).measure(Quantity::uvb);
        mean += one;
        square += std::pow(values[i] - one, 2);
    }
    fmt::print("{} points, two reflections: ours {:.3f} ms  error {:.3f} %\n", points.size(), 1e3 * t[0],
               100 * std::sqrt(square / count) / (mean / count));
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 3 && std::string(argv[2]).ends_with(".f32")) {
        const auto enclosure = scene::load_enclosure(argv[1]);
        if (!enclosure) {
            fmt::print(stderr, "{}", to_text(enclosure.error()));
            return 2;
        }
        measure_whole(*enclosure, points_of(argv[2]));
        return 0;
    }
    std::vector<std::string> files(argv + 1, argv + argc);
    if (files.empty()) {
        for (const char* name : {"tests/scenes/fifty_pieces_gray.json", "tests/scenes/white_closed_box.json",
                                 "examples/heath-edge.json"}) {
            files.push_back(std::string(DAPPLE_ROOT) + "/" + name);
        }
    }
    for (const auto& file : files) {
        const auto enclosure = scene::load_enclosure(file);
        if (!enclosure) {
            fmt::print(stderr, "{}", to_text(enclosure.error()));
            return 2;
        }
        measure(*enclosure);
    }
    return 0;
}
