// The enclosure as the engine sees it: the document of contract "dapple/enclosure@1", parsed, checked and in
// SI. Plain immutable values; scene/document.h reads and writes the JSON.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "scene/geometry.h"
#include "spectrum/lamp_spectrum.h"
#include "spectrum/material.h"
#include "spectrum/quantity.h"

namespace dapple::scene {

// ---- walls
// --------------------------------------------------------------------------------------------------
enum class Face { floor, left, right, front, back, top };  // z=0, x=0, x=max, y=0, y=max, z=max
inline constexpr std::array faces = {Face::floor, Face::left, Face::right,
                                     Face::front, Face::back, Face::top};
std::string_view name(Face face);

// A wall is of a material, or open (nothing).
using Wall = std::optional<spectrum::Material>;

// ---- lamps
// -------------------------------------------------------------------------------------------------- Measured
// strength: the reading of a cosine-corrected sensor on the aim axis through the centre, facing the lamp,
// `distance` from the nearest luminous surface, nothing in between.
struct Output {
    spectrum::Quantity quantity;  // uvi, lux or irradiance
    double value;
    double distance;  // m
};

// Far-field luminous intensity by direction, from an IES LM-63 file, scaled to 1 along the aim. Type C
// photometry: theta from the aim, phi about it from `along` (scene/photometric.h explains).
struct Photometry {
    std::string text;                           // the file as given, kept for writing back
    std::vector<double> theta;                  // rad, ascending
    std::vector<double> phi;                    // rad, ascending; one entry: the same all round
    std::vector<double> intensity;              // phi-major: intensity[i_phi * theta.size() + i_theta]
    double at(double theta, double phi) const;  // bilinear; zero outside the table
};

struct Tube {  // Lambertian line through the centre along `along`; light leaves from the axis
    double length;
    double diameter;
    Vec3 along;            // unit
    Vec3 aim;              // unit, perpendicular to along
    double forward_power;  // P(phi) = max(0, cos phi)^m; negative: all round (P = 1)
    bool coil;             // written "coil" in the document: short all-round tube
};
struct Spot {  // disc facing its aim, radiance L0 cos^(k-1); a point of intensity I0 cos^k when diameter is 0
    double diameter;
    double k;     // ln 0.5 / ln cos(beam / 2)
    double beam;  // rad, full angle at half power, as written
    Vec3 aim;
    std::optional<Photometry> photometry;  // replaces cos^k
};
struct Bar {  // `count` points of cos^k, in the middles of `count` equal parts of the length
    double length;
    int count;
    double k;
    double beam;
    Vec3 along;
    Vec3 aim;
    std::optional<Photometry> photometry;
};

// By which way a lamp gives off its power as heat; an emitter gives no light.
enum class HeatKind {
    incandescent,
    halogen,
    heat_lamp,
    fluorescent,
    mercury_vapour,
    metal_halide,
    led,
    emitter
};
inline constexpr std::array heat_kinds = {
    HeatKind::incandescent,   HeatKind::halogen,      HeatKind::heat_lamp, HeatKind::fluorescent,
    HeatKind::mercury_vapour, HeatKind::metal_halide, HeatKind::led,       HeatKind::emitter};
std::string_view name(HeatKind kind);

struct Lamp {
    std::string id;
    std::string name;  // the id where the document gives none
    Vec3 centre;
    std::variant<Tube, Spot, Bar> shape;
    spectrum::LampSpectrum spectrum;
    std::vector<Output> output;  // empty: nothing known, the lamp counts as dark and answers say so
    double power_w = 0;
    double hours_on = 12;
    std::string installed;  // ISO 8601 date or empty
    double age_factor = 1;
    std::optional<HeatKind> heat_kind;   // else by the spectrum (warmth/lamp_heat.h)
    std::optional<double> thermostat_c;  // its thermostat lowers it so that no bask spot gets warmer
};

// ---- screens
// ------------------------------------------------------------------------------------------------
struct Mesh {  // woven: wires of diameter `wire` at `pitch`, along both in-plane axes; metres
    double pitch;
    double wire;
};
struct Pane {
    spectrum::Material material;  // has optics
    double thickness;             // m
};
struct Veil {};  // nothing but a measured transmittance

struct Screen {
    std::string id;
    std::string name;
    Box box;  // flat along `normal_axis`
    int normal_axis;
    std::variant<Veil, Mesh, Pane> kind;
    std::optional<double> transmittance;  // measured; replaces mesh and pane at every angle and wavelength
};

// ---- furniture
// ----------------------------------------------------------------------------------------------
struct BoxShape {
    Box box;
    Vec3 turn;  // rad about x, y, z
};
struct CylinderShape {
    Vec3 from;
    Vec3 to;
    double diameter;
    Vec3 turn;
};
struct EllipsoidShape {
    Vec3 centre;
    Vec3 radii;
    Vec3 turn;
};
struct MeshShape {  // triangles in enclosure coordinates, outward by the right-hand rule where closed
    std::vector<Vec3> vertices;
    std::vector<std::array<int, 3>> triangles;
    Vec3 as_written =
        Vec3::Zero();  // where the document puts vertices[0]: tells how far the mesh was moved since
};

struct Furniture {
    std::string id;
    std::string name;
    std::variant<BoxShape, CylinderShape, EllipsoidShape, MeshShape> shape;
    spectrum::Material material;
    bool perch = false;
};

// Leaves: a turbid volume of leaf area density (m2/m3).
struct Foliage {
    std::string id;
    std::string name;
    std::variant<BoxShape, EllipsoidShape> shape;
    double leaf_area_density;
};

// ---- animals and spots
// ----------------------------------------------------------------------------------------
struct Animal {
    std::string species;  // id of the shipped library, or the `id` of the inline object
    int count = 1;
    std::optional<double> back_height;  // m
    std::optional<bool> climbs;
    std::vector<int> zones;                         // empty: the species' own
    std::optional<std::pair<double, double>> band;  // UVI
    std::string definition;                         // JSON text of an inline species object, or empty
};

enum class Role { bask, retreat, other };

struct Place {  // a spot of the document: where an animal sits; position is that of its feet
    std::string id;
    std::string name;
    Vec3 position;
    std::optional<double> height;  // m above the position at which it is read; else the animal's back height
    Role role = Role::other;
    std::string animal;  // species id it belongs to, or empty
};

// ---- outdoors
// --------------------------------------------------------------------------------------------------
// Where an enclosure under the sky stands. Degrees and metres, as people and maps give them.
struct Outdoors {
    double lat_deg;                     // north
    double lon_deg;                     // east
    double bearing_deg = 0;             // compass direction of +y, from front to back, clockwise from north
    std::optional<double> elevation_m;  // above the sea
    std::optional<double> albedo;       // of the ground around, 0..1
    std::string time_zone;              // IANA name, or empty
};

// ---- the room around
// ---------------------------------------------------------------------------------------------------
// What warmth needs to know of the enclosure's surroundings and make.
struct Room {
    double day_c = 22;                                    // the room's air by day
    std::optional<double> night_c;                        // else as by day
    double air_changes_per_h = 1;                         // through gaps, lid and doors closed
    std::array<std::optional<double>, 6> wall_thickness;  // m, by Face; else by material
};

// ---- the whole
// ------------------------------------------------------------------------------------------------
struct Enclosure {
    std::string id;
    std::string name;
    Vec3 size;
    std::array<Wall, 6> walls;  // by Face
    std::vector<Animal> animals;
    std::vector<Lamp> lamps;
    std::vector<Screen> screens;
    std::vector<Furniture> furniture;
    std::vector<Foliage> foliage;
    std::vector<Place> spots;
    std::optional<Outdoors> outdoors;
    Room room;
    std::string source;  // the JSON document this was parsed from, upgraded to the present format
};

}  // namespace dapple::scene
