// Outlines of what stands in an enclosure, cut or seen beyond the cut, on the paper of a slice. For this folder only.
#pragma once

#include <vector>

#include "paper/slice.h"
#include "scene/enclosure.h"

namespace dapple::paper {

struct Outline {
    Line line;  // closed; metres in the slice's plane
    bool cut;   // it stands in the plane; else below or behind it
    bool leaves;
};

// The shadow a thing casts straight onto the paper: its convex hull as seen.
std::vector<Outline> outlines(const Slice& slice, const scene::Enclosure& enclosure);

// A lamp's luminous shape as seen, as a closed line.
Line lamp_outline(const Slice& slice, const scene::Lamp& lamp);

// A point of the enclosure on the paper.
Point on_paper(const Slice& slice, const scene::Vec3& point);

}  // namespace dapple::paper
