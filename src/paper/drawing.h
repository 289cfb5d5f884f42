// The report's drawings, in grays that survive a copier: a cut through the light, and the strip that shows a band, what an
// animal can reach, and where its spots lie. Each draws from (0, 0) to the right and down; lengths are points.
#pragma once

#include <cairo.h>

#include <string>

#include "husbandry/verdict.h"
#include "paper/account.h"

namespace dapple::paper {

// ---- a cut through the enclosure: contours with their UVI, lamps, furniture, spots
struct Scale {
    double per_metre;
    double width;   // of the drawing
    double height;  // with its title and axes
};
Scale scale_of(const Slice& slice, double most_width, double most_height);
// So that several share one: the smaller of two.
Scale scaled(const Slice& slice, double per_metre);
void draw_slice(cairo_t* pen, const Slice& slice, const scene::Enclosure& enclosure, const Scale& scale);
std::string described(const Slice& slice, const scene::Enclosure& enclosure);  // for who cannot see it

// ---- the range strip of one animal
double strip_height(const husbandry::Judgement& judgement, const husbandry::AnimalJudgement& animal);
void draw_strip(cairo_t* pen, double width, const EnclosureAccount& account,
                const husbandry::AnimalJudgement& animal);
std::string described(const husbandry::Judgement& judgement, const husbandry::AnimalJudgement& animal);

}  // namespace dapple::paper
