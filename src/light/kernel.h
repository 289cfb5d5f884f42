// The fast path: direct light of one lamp at many points, a vector of points at a time.
//
// The same shadow intervals as direct.h in single precision, fewer strips and chords, culling by blocks of 64 points,
// closed-form integrals of the visible pieces where nothing dims the light. Compiled once for each instruction set
// (kernel_*.cpp) and chosen at run time; the plain structures here are all that crosses that border.
// Error: see bench/README.md (a few parts in ten thousand of a field's mean).
#pragma once

#include <cstddef>

#include "light/body.h"

namespace dapple::light {

inline constexpr std::size_t kernel_block = 64;    // points culled together
inline constexpr std::size_t kernel_padding = 16;  // arrays are padded to a multiple: the widest vector
inline constexpr int kernel_most_bodies = 512;     // between one block and one lamp
inline constexpr int kernel_most_dimmers = 32;
inline constexpr int pane_table_steps = 128;  // equal steps of the cosine, 0..1

// A photometric file as the kernel reads it: rows of relative intensity at equal steps of sin(theta / 2), 0..1, one row
// for each of the equal steps of phi, or one for all.
inline constexpr int lobe_steps = 256;

struct KernelScreen {
    BodyOf<float> body;
    int axis = 0;                  // of its normal
    float transmittance = 1;       // veil
    float wire_over_pitch = 0;     // mesh, when positive
    const float* table = nullptr;  // pane: transmittance of the wanted quantity by cosine, else null
};

struct KernelFoliage {
    BodyOf<float> body;
    float extinction = 0;  // per metre of path
};

// Rays against triangle meshes, a structure of arrays: visible[i] becomes 0 where the way from an origin to where it
// ends is blocked, else 1. Only the first `count`, at most 16, are asked for.
struct alignas(64) KernelRays {
    float from[3][kernel_padding];
    float way[3][kernel_padding];
    float visible[kernel_padding];
};
using KernelOcclusion = void (*)(const void* meshes, KernelRays& rays, int count);

struct KernelMeshes {
    const void* meshes = nullptr;  // null: none
    KernelOcclusion occluded = nullptr;
    BodyOf<float> bounds;  // a box around all of them
};

struct KernelScene {
    const BodyOf<float>* bodies = nullptr;
    int body_count = 0;
    const KernelScreen* screens = nullptr;
    int screen_count = 0;
    const KernelFoliage* foliage = nullptr;
    int foliage_count = 0;
    KernelMeshes meshes;
};

enum class KernelEmission { tube, disc, points };

struct KernelLamp {
    KernelEmission emission = KernelEmission::tube;
    float centre[3] = {};
    float lo[3] = {};
    float hi[3] = {};
    float along[3] = {};  // tube's and bar's axis; chords of a disc
    float aim[3] = {};
    float half_length = 0;        // tube; bar: half of the row
    float radius = 0;             // tube, disc
    float forward_power = -1;     // tube
    float k = 1;                  // disc, points: cos^k
    const float* lobe = nullptr;  // or a photometric file, in so many rows
    int lobe_rows = 1;
    int pieces = 1;  // strips of a tube across an uneven penumbra (0: two always); chords of a disc
    int count = 0;   // points of a bar
};

struct KernelPoints {
    const float* x = nullptr;
    const float* y = nullptr;
    const float* z = nullptr;
    const float* nx = nullptr;  // receivers' normals; null: the flux vector is wanted
    const float* ny = nullptr;
    const float* nz = nullptr;
    const float* back =
        nullptr;  // coefficients of the back receiver's weight as a polynomial of the cosine; or null
    int back_terms = 0;
};

// Irradiance into fx (receivers with normals, backs), or the flux vector into fx, fy, fz; adds nothing, overwrites.
struct KernelResult {
    float* fx = nullptr;
    float* fy = nullptr;
    float* fz = nullptr;
};

// Points [begin, end), a multiple of kernel_padding long, at unit strength of the lamp.
using KernelFunction = void (*)(const KernelScene&, const KernelLamp&, const KernelPoints&,
                                const KernelResult&, std::size_t begin, std::size_t end);

// The best this machine can run.
KernelFunction best_kernel();
const char* best_kernel_name();

}  // namespace dapple::light
