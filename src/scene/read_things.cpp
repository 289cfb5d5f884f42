// Screens, furniture, foliage.
#include <fmt/format.h>

#include <numbers>

#include "scene/mesh_file.h"
#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180;
constexpr Limits degrees = {-36000, 36000, "degrees"};
constexpr Limits mm = {0.001, 1000, "mm"};
constexpr Limits file_scale = {1e-6, 1e6};
constexpr Limits leaf_density = {0, 1000, "m2/m3"};

struct Corners {
    Vec3 min;  // cm
    Vec3 max;
};

std::optional<Corners> read_corners(Fields& fields) {
    const auto min = fields.need_three("min_cm", any_cm);
    const auto max = fields.need_three("max_cm", any_cm);
    if (!min || !max) return std::nullopt;
    return Corners{*min, *max};
}

Vec3 read_turn(Fields& fields) {
    return fields.three("turn_deg", degrees).value_or(Vec3::Zero()) * rad_per_deg;
}

std::optional<BoxShape> read_box(Fields& fields, const Context& context) {
    const auto corners = read_corners(fields);
    const Vec3 turn = read_turn(fields);
    if (!corners) return std::nullopt;
    if (!((corners->max - corners->min).array() >= smallest_cm).all()) {
        fields.faults().add(fields.place("max_cm"), "a corner that is not beyond min_cm in x, y and z",
                            "larger numbers than in min_cm");
        return std::nullopt;
    }
    const BoxShape shape{{corners->min * m_per_cm, corners->max * m_per_cm}, turn};
    if (turn.isZero()) {
        must_lie_inside(shape.box.min, fields.place("min_cm"), context, fields.faults());
        must_lie_inside(shape.box.max, fields.place("max_cm"), context, fields.faults());
    } else {
        must_lie_inside(shape.box.centre(), fields.place("min_cm"), context, fields.faults());
    }
    return shape;
}

std::optional<EllipsoidShape> read_ellipsoid(Fields& fields, const Context& context) {
    const auto centre = fields.need_three("centre_cm", any_cm);
    const auto radii = fields.need_three("radii_cm", size_cm);
    const Vec3 turn = read_turn(fields);
    if (centre) must_lie_inside(*centre * m_per_cm, fields.place("centre_cm"), context, fields.faults());
    if (!centre || !radii) return std::nullopt;
    return EllipsoidShape{*centre * m_per_cm, *radii * m_per_cm, turn};
}

std::optional<CylinderShape> read_cylinder(Fields& fields, const Context& context) {
    const auto from = fields.need_three("from_cm", any_cm);
    const auto to = fields.need_three("to_cm", any_cm);
    const auto diameter = fields.need_number("diameter_cm", size_cm);
    const Vec3 turn = read_turn(fields);
    if (!from || !to) return std::nullopt;
    if ((*to - *from).norm() < smallest_cm) {
        fields.faults().add(fields.place("to_cm"), "the same point as from_cm", "another point");
        return std::nullopt;
    }
    if (turn.isZero()) {
        must_lie_inside(*from * m_per_cm, fields.place("from_cm"), context, fields.faults());
        must_lie_inside(*to * m_per_cm, fields.place("to_cm"), context, fields.faults());
    } else {
        must_lie_inside(0.5 * m_per_cm * (*from + *to), fields.place("from_cm"), context, fields.faults());
    }
    if (!diameter) return std::nullopt;
    return CylinderShape{*from * m_per_cm, *to * m_per_cm, *diameter * m_per_cm, turn};
}

Box bounds_of(const std::vector<Vec3>& vertices) {
    Box box{vertices.front(), vertices.front()};
    for (const Vec3& v : vertices) {
        box.min = box.min.cwiseMin(v);
        box.max = box.max.cwiseMax(v);
    }
    return box;
}

// From the file's units to metres, turned about the middle of its bounds, set down at its position.
MeshShape placed(MeshShape mesh, double scale_cm, const Vec3& turn_rad, const Vec3& position_cm) {
    const Vec3 middle = bounds_of(mesh.vertices).centre();
    const Rotation rotation = turn(turn_rad);
    for (Vec3& v : mesh.vertices) {
        v = (scale_cm * (middle + rotation * (v - middle)) + position_cm) * m_per_cm;
    }
    mesh.as_written = mesh.vertices.front();
    return mesh;
}

std::optional<MeshShape> read_mesh(Fields& fields, const Context& context) {
    Faults& faults = fields.faults();
    const auto attachment = read_attachment(fields, "obj", "file", context);
    const Vec3 position = fields.three("position_cm", any_cm).value_or(Vec3::Zero());
    const double scale = fields.number("scale", file_scale).value_or(1);
    const Vec3 turn = read_turn(fields);
    if (!attachment) return std::nullopt;
    const std::string name = attachment->name.empty() ? "inline.obj" : attachment->name;
    auto mesh = parse_mesh(attachment->text, name, "", "");
    if (!mesh) {
        add_all(mesh.error(), *attachment, faults);
        return std::nullopt;
    }
    MeshShape shape = placed(*std::move(mesh), scale, turn, position);
    const Box bounds = bounds_of(shape.vertices);
    if (!(bounds.half().maxCoeff() < longest_cm * m_per_cm)) {
        faults.add(fields.place(),
                   fmt::format("a mesh {:.3g} cm large", 2 * bounds.half().maxCoeff() / m_per_cm),
                   fmt::format("at most {} cm; \"scale\" is in cm for each unit of the file", longest_cm));
        return std::nullopt;
    }
    must_lie_inside(bounds.centre(), fields.place("position_cm"), context, faults);
    return shape;
}

spectrum::Material read_surface(Fields& fields) {
    static const Json black = "black";  // where nothing is said, nothing is reflected
    const Json* given = fields.find("material");
    const Json& value = given == nullptr ? black : *given;
    return read_material(value, fields.place("material"), fields.faults()).value_or(spectrum::Material{});
}

std::optional<std::variant<Furniture, Foliage>> read_foliage(Fields& fields, const std::string& id,
                                                             const std::string& name,
                                                             const Context& context) {
    Foliage foliage{id, name, {}, 0};
    foliage.leaf_area_density =
        fields.number("leaf_area_density", leaf_density).value_or(default_leaf_area_density);
    if (fields.has("radii_cm") || fields.has("centre_cm")) {
        const auto shape = read_ellipsoid(fields, context);
        if (!shape) return std::nullopt;
        foliage.shape = *shape;
    } else {
        const auto shape = read_box(fields, context);
        if (!shape) return std::nullopt;
        foliage.shape = *shape;
    }
    return foliage;
}

std::optional<std::variant<BoxShape, CylinderShape, EllipsoidShape, MeshShape>> read_body(
    Fields& fields, const std::string& shape, const Context& context) {
    if (shape == "box") return read_box(fields, context);
    if (shape == "cylinder") return read_cylinder(fields, context);
    if (shape == "ellipsoid") return read_ellipsoid(fields, context);
    return read_mesh(fields, context);
}

std::optional<Mesh> read_woven(const Json& value, const std::string& place, Faults& faults) {
    Fields fields(value, place, "a mesh", faults);
    const auto pitch = fields.need_number("pitch_mm", mm);
    const auto wire = fields.need_number("wire_mm", mm);
    fields.finish();
    if (!pitch || !wire) return std::nullopt;
    if (*wire < *pitch) return Mesh{*pitch * m_per_mm, *wire * m_per_mm};
    faults.add(fields.place("wire_mm"), fmt::format("{:g}, which leaves no hole", *wire),
               fmt::format("less than the pitch of {:g} mm", *pitch));
    return std::nullopt;
}

std::optional<Pane> read_pane(const Json& value, const std::string& place, Faults& faults) {
    Fields fields(value, place, "a pane", faults);
    const auto thickness = fields.need_number("thickness_mm", mm);
    const Json* given =
        fields.need("material", "the name of a clear material, or an object that defines one");
    std::optional<spectrum::Material> material;
    if (given != nullptr) material = read_pane_material(*given, fields.place("material"), faults);
    fields.finish();
    if (!thickness || !material) return std::nullopt;
    return Pane{*std::move(material), *thickness * m_per_mm};
}

std::optional<int> flat_axis(const Corners& corners, Fields& fields) {
    std::optional<int> flat;
    int count = 0;
    for (int axis = 0; axis < 3; ++axis) {
        if (corners.max[axis] == corners.min[axis]) {
            flat = axis;
            ++count;
        } else if (corners.max[axis] < corners.min[axis]) {
            fields.faults().add(fields.place("max_cm"), "a corner that lies before min_cm",
                                "numbers not smaller than in min_cm");
            return std::nullopt;
        }
    }
    if (count == 1) return flat;
    fields.faults().add(fields.place("max_cm"),
                        count == 0 ? "a screen that is flat in no direction" : "a screen without an area",
                        "exactly one of x, y, z the same as in min_cm");
    return std::nullopt;
}

}  // namespace

std::optional<Screen> read_screen(const Json& value, const std::string& place, const Context& context,
                                  Faults& faults) {
    Fields fields(value, place, "a screen", faults);
    Screen screen;
    screen.id = read_id(fields).value_or("");
    screen.name = fields.text("name").value_or(screen.id);
    const auto corners = read_corners(fields);
    screen.transmittance = fields.number("transmittance", share);
    if (const Json* mesh = fields.find("mesh")) {
        if (const auto woven = read_woven(*mesh, fields.place("mesh"), faults)) screen.kind = *woven;
    }
    if (const Json* pane = fields.find("pane")) {
        if (auto sheet = read_pane(*pane, fields.place("pane"), faults)) screen.kind = *std::move(sheet);
    }
    fields.finish();
    if (value.is_object()) {
        if (fields.has("mesh") && fields.has("pane")) {
            faults.add(place, "a mesh and a pane in one screen", "one of them; two screens for both");
        } else if (!fields.has("mesh") && !fields.has("pane") && !fields.has("transmittance")) {
            faults.add(place, "a screen of nothing", "a mesh, a pane or a measured transmittance");
        }
    }
    if (!corners) return std::nullopt;
    screen.box = {corners->min * m_per_cm, corners->max * m_per_cm};
    const auto axis = flat_axis(*corners, fields);
    if (!axis) return std::nullopt;
    screen.normal_axis = *axis;
    must_lie_inside(screen.box.min, fields.place("min_cm"), context, faults);
    must_lie_inside(screen.box.max, fields.place("max_cm"), context, faults);
    return screen;
}

std::optional<std::variant<Furniture, Foliage>> read_furniture(const Json& value, const std::string& place,
                                                               const Context& context, Faults& faults) {
    Fields fields(value, place, "a piece of furniture", faults);
    const std::string id = read_id(fields).value_or("");
    const std::string name = fields.text("name").value_or(id);
    const auto shape = fields.need_word("shape", {"box", "cylinder", "ellipsoid", "mesh", "foliage"});
    if (!shape) return std::nullopt;  // which further fields it has depends on the shape
    if (*shape == "foliage") {
        auto foliage = read_foliage(fields, id, name, context);
        fields.finish();
        return foliage;
    }
    Furniture furniture;
    furniture.id = id;
    furniture.name = name;
    furniture.material = read_surface(fields);
    furniture.perch = fields.truth("perch").value_or(false);
    auto body = read_body(fields, *shape, context);
    fields.finish();
    if (!body) return std::nullopt;
    furniture.shape = *std::move(body);
    return furniture;
}

}  // namespace dapple::scene
