#include "light/what_if.h"

#include <algorithm>

#include "light/aim.h"
#include "light/lamp.h"

namespace dapple::light {

using scene::Vec3;
using spectrum::Spectrum;

namespace {

// A search compares thousands of candidates and the best are computed in full afterwards.
constexpr int search_chords = 5;

}  // namespace

WhatIf::WhatIf(const scene::Enclosure& enclosure, std::span<const Vec3> receivers,
               spectrum::Quantity quantity)
    : receivers_(receivers.begin(), receivers.end()),
      points_(receivers_),
      moved_points_(points_),
      scene_(enclosure),
      readings_(receivers_.size()) {
    const Panes panes(enclosure);
    able_ = panes.count() <= 1 && !scene_.triangles && !receivers_.empty();
    const std::size_t n = points_.padded();
    for (std::size_t l = 0; l < enclosure.lamps.size(); ++l) {
        const Spectrum weighted = enclosure.lamps[l].spectrum.relative * spectrum::weight(quantity);
        able_ = able_ && scene_.kernel_can_follow();
        scale_.push_back(strength(enclosure.lamps[l]) * weighted.sum());
        // Through a pane every lamp's own spectrum counts: a set of screens for each.
        tables_.push_back(pane_tables(panes, weighted));
        screens_.push_back(scene_.screens);
        for (std::size_t i = 0; i < screens_.back().size(); ++i) {
            const int pane = panes.pane_of(i);
            if (pane >= 0) screens_.back()[i].table = tables_.back()[static_cast<std::size_t>(pane)].data();
        }
        KernelLamp& shape = scene_.lamps[l];
        if (shape.emission == KernelEmission::tube) shape.pieces = 0;
        if (shape.emission == KernelEmission::disc) shape.pieces = search_chords;
        light_.push_back({std::vector<float>(n), std::vector<float>(n), std::vector<float>(n)});
    }
    changed_ = light_;
    lamp_flux_.resize(enclosure.lamps.size());
    beams_.resize(enclosure.lamps.size());
    if (!able_) return;
    for (std::size_t l = 0; l < light_.size(); ++l) compute(l, scene_.lamps[l], points_, light_[l]);
}

void WhatIf::compute(std::size_t lamp, const KernelLamp& shape, const PointSet& points, LampLight& into) {
    if (scale_[lamp] <= 0) return;
    KernelPoints in;
    in.x = points.x.data();
    in.y = points.y.data();
    in.z = points.z.data();
    const KernelResult out{into.x.data(), into.y.data(), into.z.data()};
    kernel_(scene_.view(shape, screens_[lamp]), shape, in, out, 0, points.padded());
}

std::span<const double> WhatIf::turn() {
    for (std::size_t i = 0; i < receivers_.size(); ++i) {
        for (std::size_t l = 0; l < shown_.size(); ++l) {
            const LampLight& light = *shown_[l];
            lamp_flux_[l] = scale_[l] * Vec3(static_cast<double>(light.x[i]), static_cast<double>(light.y[i]),
                                             static_cast<double>(light.z[i]));
            beams_[l] = {lamp_flux_[l]};
        }
        readings_[i] = highest_irradiance(beams_, lamp_flux_);
    }
    return readings_;
}

std::span<const double> WhatIf::readings() {
    shown_.clear();
    for (const auto& lamp : light_) shown_.push_back(&lamp);
    return turn();
}

std::span<const double> WhatIf::with_lamp_at(int lamp, const Vec3& centre) {
    const auto moved = static_cast<std::size_t>(lamp);
    KernelLamp shape = scene_.lamps[moved];
    for (int i = 0; i < 3; ++i) {
        const float by = static_cast<float>(centre[i]) - shape.centre[i];
        shape.centre[i] += by;
        shape.lo[i] += by;
        shape.hi[i] += by;
    }
    compute(moved, shape, points_, changed_[moved]);
    shown_.clear();
    for (std::size_t l = 0; l < light_.size(); ++l) shown_.push_back(l == moved ? &changed_[l] : &light_[l]);
    return turn();
}

std::span<const double> WhatIf::with_furniture_moved(int piece, const Vec3& by,
                                                     std::span<const bool> carried) {
    moved_points_ = points_;
    for (std::size_t i = 0; i < receivers_.size(); ++i) {
        if (!carried[i]) continue;
        moved_points_.x[i] += static_cast<float>(by.x());
        moved_points_.y[i] += static_cast<float>(by.y());
        moved_points_.z[i] += static_cast<float>(by.z());
    }
    const int body = scene_.body_of_furniture[static_cast<std::size_t>(piece)];
    auto shift = [&](const Vec3& step) {
        if (body < 0) return;
        for (auto* bodies : {&scene_.furniture, &scene_.furniture_and_walls}) {
            BodyOf<float>& b = (*bodies)[static_cast<std::size_t>(body)];
            for (int i = 0; i < 3; ++i) {
                b.centre[i] += static_cast<float>(step[i]);
                b.lo[i] += static_cast<float>(step[i]);
                b.hi[i] += static_cast<float>(step[i]);
            }
        }
    };
    const BodyOf<float> before =
        body < 0 ? BodyOf<float>{} : scene_.furniture[static_cast<std::size_t>(body)];
    shift(by);
    shown_.clear();
    for (std::size_t l = 0; l < light_.size(); ++l) {
        compute(l, scene_.lamps[l], moved_points_, changed_[l]);
        shown_.push_back(&changed_[l]);
    }
    if (body >= 0) {  // put back exactly, not by adding: sums of floats drift
        scene_.furniture[static_cast<std::size_t>(body)] = before;
        scene_.furniture_and_walls[static_cast<std::size_t>(body)] = before;
    }
    return turn();
}

}  // namespace dapple::light
