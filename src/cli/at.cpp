// dapple at ENC --point x,y,z: every quantity at listed points.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <numeric>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"
#include "light/field.h"
#include "server/numbers.h"

namespace dapple::cli {

namespace {

using light::Arrival;

struct Options {
    std::string enclosure;
    std::vector<std::string> points;
    std::string facing = "aimed";
    std::string bounces;
    bool json = false;
};

Expected<light::FieldOptions> read_bounces(const std::string& text) {
    light::FieldOptions options;
    if (text.empty()) return options;
    const std::string allowed = "a whole number from 0 to 1000; without it, until nothing is left to reflect";
    const auto number = read_number(text, "--bounces", allowed);
    if (!number) return tl::unexpected(number.error());
    if (*number < 0 || *number > 1000 || *number != static_cast<int>(*number)) {
        return refuse({"", "--bounces", text, allowed});
    }
    options.bounces = static_cast<int>(*number);
    return options;
}

nlohmann::json as_json(const Arrival& arrival) {
    nlohmann::json point = {{"point_cm", server::in_cm(arrival.point)},
                            {"facing", light::to_text(arrival.facing)},
                            {"normal", {arrival.normal.x(), arrival.normal.y(), arrival.normal.z()}}};
    for (const auto quantity : spectrum::quantities) {
        point[std::string(spectrum::name(quantity))] = arrival.measure(quantity);
    }
    return point;
}

std::string as_text(const std::vector<Arrival>& arrivals) {
    std::vector<std::string> header = {"x cm", "y cm", "z cm"};
    for (const auto quantity : spectrum::quantities) header.push_back(label(quantity));
    std::vector<std::size_t> all(header.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    Columns table(std::move(header), std::move(all));
    for (const Arrival& arrival : arrivals) {
        std::vector<std::string> row;
        for (const double cm : server::in_cm(arrival.point)) row.push_back(fmt::format("{:g}", cm));
        for (const auto quantity : spectrum::quantities)
            row.push_back(plain_number(arrival.measure(quantity)));
        table.add(std::move(row));
    }
    return table.text();
}

int run_at(const Options& options, const Console& console) {
    const auto enclosure = read_enclosure(options.enclosure, console.in);
    if (!enclosure) return console.refuse(enclosure.error());
    const auto facing = light::parse_facing(options.facing);
    if (!facing) return console.refuse(facing.error());
    const auto field_options = read_bounces(options.bounces);
    if (!field_options) return console.refuse(field_options.error());
    if (options.points.empty()) {
        return console.refuse({"", "--point", "nothing", "one or more --point x,y,z, in cm"});
    }
    std::vector<scene::Vec3> points;
    Problems problems;
    for (const std::string& text : options.points) {
        const auto point = read_point(text, *enclosure);
        if (point) {
            points.push_back(*point);
        } else {
            problems.insert(problems.end(), point.error().begin(), point.error().end());
        }
    }
    if (!problems.empty()) return console.refuse(problems);

    const light::Field field(*enclosure, *field_options);
    std::vector<Arrival> arrivals;
    for (const scene::Vec3& point : points) arrivals.push_back(field.at(point, *facing));
    if (!options.json) {
        console.out << as_text(arrivals);
        return done;
    }
    nlohmann::json list = nlohmann::json::array();
    for (const Arrival& arrival : arrivals) list.push_back(as_json(arrival));
    return console.print({{"points", list}});
}

}  // namespace

Command at_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("at", "Every quantity at points");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option("--point", options->points,
                    "A point x,y,z in cm, as is: no back height is added; may be repeated")
        ->allow_extra_args(false);
    app->add_option("--facing", options->facing, "aimed (default), up, back, or a direction nx,ny,nz");
    app->add_option("--bounces", options->bounces,
                    "Reflections followed; without it, all that matter; 0: direct light");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) { return run_at(*options, console); }};
}

}  // namespace dapple::cli
