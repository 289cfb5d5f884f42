// Places on a regular lattice in an enclosure, and what is there: the form in which a field leaves the program.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "light/facing.h"
#include "scene/enclosure.h"
#include "spectrum/quantity.h"

namespace dapple::cli {

// Places lie at every multiple of `step` from the origin, floor and walls included; one layer at `height` where
// that is given. x runs fastest, z slowest.
struct Lattice {
    double step;  // m
    std::array<int, 3> counts;
    double lowest;  // m, z of the first layer

    std::vector<scene::Vec3> points() const;
    std::size_t size() const;
};

Lattice whole(const scene::Enclosure& enclosure, double step);
Lattice layer(const scene::Enclosure& enclosure, double step, double height);

// Some quantities at the places of a lattice.
struct Lot {
    spectrum::Quantity quantity;
    std::vector<double> values;
};

struct FieldOnLattice {
    Lattice lattice;
    light::Facing facing;
    std::vector<Lot> lots;
};

// VTK XML ImageData, which ParaView opens: centimetres, one array a quantity, 32-bit numbers in base64.
// (The VTK User's Guide, "XML File Formats".)
std::string to_vti(const FieldOnLattice& field);

// x_cm,y_cm,z_cm, then a column a quantity, with a header row.
std::string to_csv(const FieldOnLattice& field);

}  // namespace dapple::cli
