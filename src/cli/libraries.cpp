// dapple materials, dapple spectra: the names a document may use, with where their numbers come from.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "server/library.h"
#include "spectrum/lamp_spectrum.h"
#include "spectrum/material.h"
#include "spectrum/quantity.h"

namespace dapple::cli {

namespace {

using spectrum::Quantity;
using spectrum::Spectrum;

std::string percent(const Spectrum& reflectance, int from_nm, int to_nm) {
    const double mean =
        spectrum::integral(reflectance, from_nm, to_nm) / static_cast<double>(to_nm - from_nm);
    return fmt::format("{:.0f} %", 100 * mean);
}

std::string materials_text() {
    Columns table({"id", "name", "UVB", "UVA", "visible", "pane", "confidence", "source"}, {2, 3, 4});
    for (const spectrum::Material& m : spectrum::materials()) {
        table.add({m.id, m.name, percent(m.reflectance, 280, 315), percent(m.reflectance, 315, 400),
                   percent(m.reflectance, 400, 700), m.optics ? "yes" : "no", m.confidence, m.source});
    }
    return "Diffuse reflectance of each material; `pane`: can stand in the light's path as a sheet.\n\n" +
           table.text();
}

std::string ratio(double above, double below) {
    return below > 0 ? plain_number(above / below) : "-";
}

std::string spectra_text() {
    Columns table({"id", "name", "UVI per 1000 lx", "UVB of UV", "source"}, {2, 3});
    for (const spectrum::LampSpectrum& s : spectrum::lamp_spectra()) {
        const double uvb = spectrum::measure(s.relative, Quantity::uvb);
        const double uv =
            uvb + spectrum::measure(s.relative, Quantity::uva) + spectrum::measure(s.relative, Quantity::uvc);
        table.add({s.id, s.name,
                   ratio(1000 * spectrum::measure(s.relative, Quantity::uvi),
                         spectrum::measure(s.relative, Quantity::lux)),
                   uv > 0 ? fmt::format("{:.1f} %", 100 * uvb / uv) : "-", s.source});
    }
    return table.text();
}

// A command that only lists: text or JSON.
Command lister(CLI::App& program, const std::string& name, const std::string& description,
               const std::function<std::string()>& text, const std::function<nlohmann::json()>& document) {
    auto json = std::make_shared<bool>(false);
    CLI::App* app = program.add_subcommand(name, description);
    app->add_flag("--json", *json, "Answer in JSON");
    return {app, [=](const Console& console) {
                if (*json) return console.print(document());
                console.out << text();
                return done;
            }};
}

}  // namespace

Command materials_command(CLI::App& program) {
    return lister(program, "materials", "What walls, furniture and panes can be made of", materials_text,
                  server::materials_document);
}

Command spectra_command(CLI::App& program) {
    return lister(program, "spectra", "What lamps can shine with", spectra_text, server::spectra_document);
}

}  // namespace dapple::cli
