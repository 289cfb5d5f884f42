// Probes of reflected light on a grid of the enclosure, and what lies between them.
//
// Near 1000 probes stand on the nodes of a regular grid that spans the box up to 1 cm from its walls. Each
// sees patches along evenly spread rays; what they send there in one quantity is kept as nine spherical-harmonic
// coefficients. Between nodes they are interpolated trilinearly; nodes within furniture do not count, and where
// all eight are within, the nearest one outside does.
//
// What a node sees does not depend on the lamps: it is traced when the node is first needed, and kept.
#pragma once

#include <array>
#include <mutex>
#include <span>
#include <vector>

#include "light/interreflection.h"
#include "light/interreflection_factors.h"
#include "light/interreflection_space.h"
#include "light/patches.h"

namespace dapple::light {

class Probes {
  public:
    // Keeps references to the patches and the space.
    Probes(const Patches& patches, const Space& space, double turn, int rays = 192, int probes = 1000);

    // `radiosity` of every patch at unit lamp strength, `worth` of each band. May be called from several threads.
    std::vector<IndirectProbe> at(const std::vector<Lanes>& radiosity, const Bands& worth,
                                  std::span<const scene::Vec3> points) const;

  private:
    // What it sees along its rays: the patch, and the harmonics of the ray's direction times the share that arrives;
    // where panes colour the light, `coloured` says that share by band.
    struct Node {
        bool traced = false;
        std::vector<int> patch;
        Eigen::Matrix<float, 9, Eigen::Dynamic> harmonics;
        std::vector<Lanes> coloured;
    };
    struct Corner {
        int node;
        double weight;
    };
    struct Corners {  // what a point is mixed of
        std::array<Corner, 8> corners;
        int count = 0;
    };

    scene::Vec3 node(int i) const;
    int number(const std::array<int, 3>& cell) const;
    bool is_free(int node) const { return free_[static_cast<std::size_t>(node)] != 0; }
    std::vector<int> nearest_to_cells() const;
    int free_corner(int lowest) const;  // of the cell with that lowest node; -1: none
    Corners around(const scene::Vec3& point) const;
    void trace(const std::vector<int>& nodes) const;
    Node traced(int number) const;

    const Patches& patches_;
    const Space& space_;
    double turn_;
    int rays_;
    scene::Vec3 origin_;
    scene::Vec3 step_;
    std::array<int, 3> counts_{};
    std::vector<char> free_;    // by node
    std::vector<int> nearest_;  // free one, by the cell's lowest node; empty where all are free
    mutable std::mutex tracing_;
    mutable std::vector<Node> nodes_;
};

}  // namespace dapple::light
