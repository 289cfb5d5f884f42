// dapple field ENC --step-cm S --out F: the light on a lattice, for other programs and for the eye.
#include "light/field.h"

#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/lattice.h"
#include "cli/picture.h"
#include "husbandry/verdict.h"

namespace dapple::cli {

namespace {

using scene::Enclosure;
using spectrum::Quantity;

constexpr double most_points = 5e6;  // 20 MB a quantity in a .vti

struct Options {
    std::string enclosure;
    std::string step;
    std::string out;
    std::vector<std::string> quantities;
    std::string facing = "aimed";
    std::string height;
    bool json = false;
};

Expected<std::vector<Quantity>> read_quantities(const std::vector<std::string>& names) {
    if (names.empty()) return std::vector<Quantity>{Quantity::uvi};
    std::vector<std::string> known;
    for (const Quantity quantity : spectrum::quantities) known.emplace_back(spectrum::name(quantity));
    std::vector<Quantity> chosen;
    Problems problems;
    for (const std::string& name : names) {
        if (const auto quantity = spectrum::quantity_named(name)) {
            chosen.push_back(*quantity);
        } else {
            problems.push_back(
                {"", "--quantity", "\"" + name + "\"", fmt::format("{}", fmt::join(known, ", "))});
        }
    }
    if (!problems.empty()) return tl::unexpected(problems);
    return chosen;
}

// In metres: larger than 0, and not so fine that the lattice outgrows a machine.
Expected<double> read_step(const std::string& text, const Enclosure& enclosure, bool flat) {
    const double volume = 1e6 * enclosure.size.x() * enclosure.size.y() * enclosure.size.z();
    const double area = 1e4 * enclosure.size.x() * enclosure.size.y();
    const double finest = flat ? std::sqrt(area / most_points) : std::cbrt(volume / most_points);
    const std::string allowed =
        fmt::format("the distance between neighbouring places in cm, at least {:.2g} here", finest);
    if (text.empty()) return refuse({"", "--step-cm", "nothing", allowed});
    const auto step = read_number(text, "--step-cm", allowed);
    if (!step) return tl::unexpected(step.error());
    if (*step <= 0 || *step < finest) return refuse({"", "--step-cm", text, allowed});
    return *step / 100;
}

// Where the picture's layer lies, m: as asked for, else where the first basking spot is read, else on the floor.
Expected<double> read_height(const std::string& text, const Enclosure& enclosure) {
    if (text.empty()) {
        const auto animals = husbandry::resolve_animals(enclosure);
        for (const scene::Place& spot : enclosure.spots) {
            if (animals && spot.role == scene::Role::bask)
                return husbandry::reading_point(spot, *animals).z();
        }
        return 0.0;
    }
    const std::string allowed =
        fmt::format("a height in cm inside the box, 0 to {:g}", 100 * enclosure.size.z());
    const auto height = read_number(text, "--height-cm", allowed);
    if (!height) return tl::unexpected(height.error());
    if (*height < 0 || *height > 100 * enclosure.size.z()) return refuse({"", "--height-cm", text, allowed});
    return *height / 100;
}

Expected<std::string> read_kind(const Options& options) {
    const std::string allowed = "a file that ends in .vti, .csv or .png";
    if (options.out.empty()) return refuse({"", "--out", "nothing", allowed});
    const std::string kind = std::filesystem::path(options.out).extension().string();
    if (kind != ".vti" && kind != ".csv" && kind != ".png") {
        return refuse({"", "--out", "\"" + options.out + "\"", allowed});
    }
    if (kind == ".png" && options.quantities.size() > 1) {
        return refuse(
            {"", "--quantity", fmt::format("{} quantities", options.quantities.size()), "one for a .png"});
    }
    return kind;
}

Expected<std::string> encoded(const std::string& kind, const FieldOnLattice& field,
                              const Enclosure& enclosure) {
    if (kind == ".vti") return to_vti(field);
    if (kind == ".csv") return to_csv(field);
    return to_png(field, enclosure);
}

int run_field(const Options& options, const Console& console) {
    const auto kind = read_kind(options);
    if (!kind) return console.refuse(kind.error());
    const auto enclosure = read_enclosure(options.enclosure, console.in);
    if (!enclosure) return console.refuse(enclosure.error());
    const bool flat = *kind == ".png" || !options.height.empty();
    const auto step = read_step(options.step, *enclosure, flat);
    if (!step) return console.refuse(step.error());
    const auto quantities = read_quantities(options.quantities);
    if (!quantities) return console.refuse(quantities.error());
    const auto facing = light::parse_facing(options.facing);
    if (!facing) return console.refuse(facing.error());
    const auto height = read_height(options.height, *enclosure);
    if (!height) return console.refuse(height.error());

    const Lattice lattice = flat ? layer(*enclosure, *step, *height) : whole(*enclosure, *step);
    FieldOnLattice field{lattice, *facing, {}};
    const light::Field light(*enclosure);
    const std::vector<scene::Vec3> points = lattice.points();
    for (const Quantity quantity : *quantities) {
        field.lots.push_back({quantity, light.values(points, quantity, *facing)});
    }
    const auto bytes = encoded(*kind, field, *enclosure);
    if (!bytes) return console.refuse(bytes.error());
    if (const auto written = write_file(options.out, *bytes); !written)
        return console.refuse(written.error());

    if (options.json)
        return console.print({{"file", options.out}, {"points", points.size()}, {"counts", lattice.counts}});
    console.out << fmt::format("{}: {} places ({} x {} x {})\n", options.out, points.size(),
                               lattice.counts[0], lattice.counts[1], lattice.counts[2]);
    return done;
}

}  // namespace

Command field_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("field", "The field on a lattice: VTK XML, CSV, or a picture");
    app->add_option("ENC", options->enclosure, "The enclosure's document; - reads standard input");
    app->add_option("--step-cm", options->step, "Distance between neighbouring places, cm");
    app->add_option("--out", options->out, "The file to write: .vti (for ParaView), .csv, or .png (a plan)");
    app->add_option("--quantity", options->quantities,
                    "uvi (default), d3_w_m2, uvb_w_m2, lux ...; may be repeated")
        ->allow_extra_args(false);
    app->add_option("--facing", options->facing, "aimed (default), up, back, or a direction nx,ny,nz");
    app->add_option(
        "--height-cm", options->height,
        "One layer at this height; a .png without it shows the height of the first basking spot's reading");
    app->add_flag("--json", options->json, "Say in JSON what was written");
    return {app, [options](const Console& console) { return run_field(*options, console); }};
}

}  // namespace dapple::cli
