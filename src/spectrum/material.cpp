#include "spectrum/material.h"

#include <algorithm>
#include <utility>

#include "spectrum/table.h"

namespace dapple::spectrum {

namespace {

Material read_material(const std::string& path) {
    const auto table = shipped_table(path);
    const auto& nm = table.column("wavelength_nm");
    Material material;
    material.id = table.note("id");
    material.name = table.note("name");
    material.source = table.note("source");
    material.confidence = table.note("confidence");
    material.reflectance = resample(nm, table.column("reflectance"), Outside::nearest);
    if (table.has("index")) {
        material.optics = Optics{resample(nm, table.column("index"), Outside::nearest),
                                 resample_log(nm, table.column("absorption_per_m"), Outside::nearest)};
    }
    return material;
}

}  // namespace

const std::vector<Material>& materials() {
    static const auto all = [] {
        std::vector<Material> read;
        for (const auto& path : shipped_tables("materials/")) read.push_back(read_material(path));
        return read;
    }();
    return all;
}

const Material* find_material(std::string_view id) {
    const auto& all = materials();
    const auto it = std::find_if(all.begin(), all.end(), [&](const Material& m) { return m.id == id; });
    return it == all.end() ? nullptr : &*it;
}

Material gray(std::string id, double reflectance) {
    Material material;
    material.name = id;
    material.id = std::move(id);
    material.reflectance = constant(reflectance);
    material.source = "given in the document";
    material.confidence = "as given";
    return material;
}

}  // namespace dapple::spectrum
