// The reflecting surfaces of an enclosure, cut into patches: walls and furniture that are neither black nor
// open.
//
// Walls are cut about `edge` wide and finer where a lamp is close (patches_grid.h). Curved furniture keeps
// its true area. What lies hidden, the floor under a stone or a stone's side against a wall, belongs to no
// patch: a patch's area, its irradiance and its rays are those of its open part.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "light/bands.h"
#include "light/embree.h"
#include "light/patches_grid.h"
#include "light/patches_skin.h"
#include "scene/enclosure.h"

namespace dapple::light {

// A place on a surface, lifted off it by `surface_lift`.
struct SurfaceSample {
    scene::Vec3 point;
    scene::Vec3 normal;
    double weight;  // the surface it stands for, up to a factor common to the patch
};

class Patches {
  public:
    // `edge` is the wanted width (m). It grows where the walls and furniture would give more than `most`
    // patches.
    Patches(const scene::Enclosure& enclosure, double edge, int most = 4000);

    int count() const { return static_cast<int>(patches_.size()); }
    double area(int patch) const { return at(patch).area; }
    const Bands& reflectance(int patch) const { return reflectances_[slot(at(patch).material)]; }

    // A place on the patch by two numbers in 0..1, evenly by chart, hidden or not.
    SurfaceSample sample(int patch, double s, double t) const { return sample_of(at(patch).shape, s, t); }
    bool is_open(const SurfaceSample& sample) const;

    // Evenly spread open places that stand for the whole patch: four, or more where a lamp is close.
    std::span<const SurfaceSample> spread(int patch) const;

    // The patch at a place on a wall, and where a ray met furniture; -1 where nothing reflects.
    int at_wall(scene::Face face, const scene::Vec3& point) const;
    int at_furniture(const FurnitureHit& hit, const scene::Vec3& point) const;

    // The unit normal there, looking to the side from which the surface was met.
    static scene::Vec3 normal_at_wall(scene::Face face);
    scene::Vec3 normal_at_furniture(const FurnitureHit& hit, const scene::Vec3& point) const;

    const FurnitureRays& rays() const { return rays_; }
    const scene::Box& box() const { return box_; }
    bool inside_furniture(const scene::Vec3& point) const;

  private:
    struct Side {  // one face of a body, cut along lines of constant u and v
        Body body;
        int part;
        double outward;  // -1 for walls, which look inward
        std::vector<double> u;
        std::vector<double> v;
        std::vector<int> patch;  // u running faster; -1 where nothing reflects
    };
    struct Cell {
        int side;
        Chart low;
        Chart high;
    };
    struct Group {  // triangles of one mesh, seen from one side
        int furniture;
        double outward;
        std::vector<int> triangles;
        std::vector<double> area_up_to;
    };
    using Shape = std::variant<Cell, Group>;
    struct Patch {
        Shape shape;
        int material;
        double area;
        std::size_t first_sample;
        std::size_t samples;
    };
    struct MeshSides {
        std::vector<int> front;  // patch by triangle
        std::vector<int> back;   // empty when the mesh is closed
    };

    static std::size_t slot(int i) { return static_cast<std::size_t>(i); }
    const Patch& at(int patch) const { return patches_[slot(patch)]; }

    void cut_walls(const scene::Enclosure& enclosure, double edge);
    void cut_furniture(double edge);
    void cut_mesh(int furniture, int material, double edge);
    int patch_on(int side, const scene::Vec3& point) const;
    int add_side(Side side, int material);
    int add_patch(Shape shape, int material);
    int keep(const spectrum::Material& material);
    SurfaceSample sample_of(const Shape& shape, double s, double t) const;
    SurfaceSample sample_of(const Cell& cell, double s, double t) const;
    SurfaceSample sample_of(const Group& group, double s, double t) const;
    std::array<scene::Vec3, 3> corners(int furniture, int triangle) const;

    scene::Box box_;
    std::vector<scene::Furniture> furniture_;  // meshes cut finer
    std::vector<bool> closed_;                 // by furniture: has an inside
    std::vector<std::optional<Body>> bodies_;  // by furniture; none for a mesh
    std::vector<scene::Box> closed_meshes_;    // what has an inside and is no body lies in these
    FurnitureRays rays_;
    std::vector<LampLine> lamps_;
    std::vector<Bands> reflectances_;
    std::vector<Side> sides_;
    std::vector<Patch> patches_;
    std::vector<SurfaceSample> samples_;
    std::array<int, 6> wall_side_{};            // by part of the box; -1: nothing reflects
    std::vector<std::vector<int>> body_sides_;  // by furniture, part
    std::vector<MeshSides> mesh_sides_;         // by furniture
};

}  // namespace dapple::light
