// The body of kernel.h, a template over the instruction set. Included only by kernel_*.cpp; uses nothing from the
// standard library that could leave a function compiled for one instruction set to callers meant for another.
#pragma once

#include <xsimd/xsimd.hpp>

#include "light/kernel.h"

namespace dapple::light {

template <class Arch>
class Kernel {
    using V = xsimd::batch<float, Arch>;
    using M = xsimd::batch_bool<float, Arch>;
    using T3 = Triple<V>;

  public:
    static void run(const KernelScene& scene, const KernelLamp& lamp, const KernelPoints& points,
                    const KernelResult& result, std::size_t begin, std::size_t end) {
        Kernel kernel(scene, lamp, points, result);
        for (std::size_t block = begin; block < end; block += kernel_block) {
            kernel.block(block, block + kernel_block < end ? block + kernel_block : end);
        }
    }

  private:
    Kernel(const KernelScene& s, const KernelLamp& l, const KernelPoints& p, const KernelResult& r)
        : scene_(s), lamp_(l), points_(p), result_(r) {}

    static T3 spread(const float* v) { return {V(v[0]), V(v[1]), V(v[2])}; }
    static V dot(const T3& a, const T3& b) { return xsimd::fma(a.x, b.x, xsimd::fma(a.y, b.y, a.z * b.z)); }
    static float highest(const V& v) {
        float value[V::size];
        v.store_unaligned(value);
        float most = value[0];
        for (std::size_t i = 1; i < V::size; ++i) most = value[i] > most ? value[i] : most;
        return most;
    }
    static V power(const V& base, float exponent) {
        if (exponent == 1.0F) return base;
        if (exponent == 2.0F) return base * base;
        return xsimd::exp(V(exponent) * xsimd::log(xsimd::max(base, V(1e-30F))));
    }

    // ---- what stands between this block and the lamp ------------------------------------------------------------
    void block(std::size_t from, std::size_t to) {
        const Bounds bounds = bounds_of(from, to);
        block_bodies_ = screens_ = foliage_ = 0;
        for (int i = 0; i < scene_.body_count; ++i) {
            if (block_bodies_ < kernel_most_bodies && between(scene_.bodies[i], bounds)) {
                block_body_[block_bodies_++] = &scene_.bodies[i];
            }
        }
        for (int i = 0; i < scene_.screen_count && screens_ < kernel_most_dimmers; ++i) {
            if (between(scene_.screens[i].body, bounds)) screen_[screens_++] = i;
        }
        for (int i = 0; i < scene_.foliage_count && foliage_ < kernel_most_dimmers; ++i) {
            if (between(scene_.foliage[i].body, bounds)) leaves_[foliage_++] = i;
        }
        meshed_ = scene_.meshes.meshes != nullptr && between(scene_.meshes.bounds, bounds);
        for (std::size_t i = from; i < to; i += V::size) vector(i);
    }

    struct Bounds {
        float lo[3] = {1e30F, 1e30F, 1e30F}, hi[3] = {-1e30F, -1e30F, -1e30F};
    };
    Bounds bounds_of(std::size_t from, std::size_t to) const {
        Bounds bounds;
        for (std::size_t i = from; i < to; ++i) {
            const float p[3] = {points_.x[i], points_.y[i], points_.z[i]};
            for (int k = 0; k < 3; ++k) {
                bounds.lo[k] = p[k] < bounds.lo[k] ? p[k] : bounds.lo[k];
                bounds.hi[k] = p[k] > bounds.hi[k] ? p[k] : bounds.hi[k];
            }
        }
        return bounds;
    }
    bool between(const BodyOf<float>& body, const Bounds& bounds) const {
        return may_stand_between<Arch>(body, bounds.lo, bounds.hi, lamp_.lo, lamp_.hi);
    }

    void vector(std::size_t at) {
        x_ = {V::load_unaligned(points_.x + at), V::load_unaligned(points_.y + at),
              V::load_unaligned(points_.z + at)};
        if (points_.nx != nullptr) {
            n_ = {V::load_unaligned(points_.nx + at), V::load_unaligned(points_.ny + at),
                  V::load_unaligned(points_.nz + at)};
        }
        // A second look for these few points alone spares more than it costs.
        bodies_ = 0;
        if (block_bodies_ > 0) {
            const Bounds bounds = bounds_of(at, at + V::size);
            for (int i = 0; i < block_bodies_; ++i) {
                if (between(*block_body_[i], bounds)) body_[bodies_++] = block_body_[i];
            }
        }
        sum_ = {V(0.0F), V(0.0F), V(0.0F)};
        switch (lamp_.emission) {
            case KernelEmission::tube:
                tube();
                break;
            case KernelEmission::disc:
                disc();
                break;
            case KernelEmission::points:
                row();
                break;
        }
        sum_.x.store_unaligned(result_.fx + at);
        if (points_.nx == nullptr && points_.back == nullptr) {
            sum_.y.store_unaligned(result_.fy + at);
            sum_.z.store_unaligned(result_.fz + at);
        }
    }

    // Light of that weight from that direction.
    void receive(const T3& w, const V& weight) {
        if (points_.back != nullptr) {
            V k(points_.back[points_.back_terms - 1]);
            for (int i = points_.back_terms - 2; i >= 0; --i) k = xsimd::fma(k, w.z, V(points_.back[i]));
            sum_.x = xsimd::fma(weight, xsimd::max(k, V(0.0F)), sum_.x);
        } else if (points_.nx != nullptr) {
            sum_.x = xsimd::fma(weight, xsimd::max(dot(n_, w), V(0.0F)), sum_.x);
        } else {
            sum_.x = xsimd::fma(weight, w.x, sum_.x);
            sum_.y = xsimd::fma(weight, w.y, sum_.y);
            sum_.z = xsimd::fma(weight, w.z, sum_.z);
        }
    }

    // ---- shadows on one straight piece of lamp --------------------------------------------------------------------
    void find_shadows(const T3& p, const T3& a, const V& s0, const V& s1) {
        hits_ = 0;
        for (int i = 0; i < bodies_; ++i) {
            const auto interval = shadow_of(*body_[i], x_, p, a, s0, s1);
            const M real = interval.lo < interval.hi;
            if (!xsimd::any(real)) continue;
            // Empty lanes lie beyond the end of the line and hide nothing. Sorted by the lower end as they come.
            V lo = xsimd::select(real, interval.lo, V(1e30F)),
              hi = xsimd::select(real, interval.hi, V(1e30F));
            for (int j = 0; j < hits_; ++j) {
                const M swap = lo < lo_[j];
                if (!xsimd::any(swap)) continue;
                const V old_lo = lo_[j], old_hi = hi_[j];
                lo_[j] = xsimd::select(swap, lo, old_lo);
                hi_[j] = xsimd::select(swap, hi, old_hi);
                lo = xsimd::select(swap, old_lo, lo);
                hi = xsimd::select(swap, old_hi, hi);
            }
            lo_[hits_] = lo;
            hi_[hits_++] = hi;
        }
    }

    M hidden(const V& s) const {
        M inside = V(0.0F) > V(1.0F);
        for (int i = 0; i < hits_; ++i) inside = inside | ((lo_[i] < s) & (s < hi_[i]));
        return inside;
    }

    // Which screens and plants dim any of this piece of lamp for any of these points, and where on it.
    void find_dimmers(const T3& p, const T3& a, const V& s0, const V& s1) {
        crossed_ = leafy_ = 0;
        for (int i = 0; i < screens_; ++i) {
            const KernelScreen& screen = scene_.screens[screen_[i]];
            const Interval<V> span = shadow_of(screen.body, x_, p, a, s0, s1);
            if (xsimd::any(span.lo < span.hi)) crossing_[crossed_++] = {&screen, span};
        }
        for (int i = 0; i < foliage_; ++i) {
            const KernelFoliage& leaves = scene_.foliage[leaves_[i]];
            const Interval<V> span = shadow_of(leaves.body, x_, p, a, s0, s1);
            if (xsimd::any(span.lo < span.hi)) leafing_[leafy_++] = {&leaves, span};
        }
    }

    // Calls piece(lo, hi) for the parts of [s0, s1] between all ends of shadows, screens and foliage that are not
    // hidden; lanes where nothing is left have lo == hi.
    template <class Piece>
    void for_pieces(const V& s0, const V& s1, const Piece& piece) {
        int cuts = 0;
        auto insert = [&](V s) {
            s = xsimd::min(xsimd::max(s, s0), s1);
            for (int j = 0; j < cuts; ++j) {
                const V old = cut_[j];
                cut_[j] = xsimd::min(old, s);
                s = xsimd::max(old, s);
            }
            cut_[cuts++] = s;
        };
        insert(s0);
        insert(s1);
        for (int i = 0; i < hits_; ++i) {
            insert(lo_[i]);
            insert(hi_[i]);
        }
        auto insert_span = [&](const Interval<V>& span) {
            const M real = span.lo < span.hi;
            if (!xsimd::any(real)) return;
            insert(xsimd::select(real, span.lo, s0));
            insert(xsimd::select(real, span.hi, s0));
        };
        for (int i = 0; i < crossed_; ++i) insert_span(crossing_[i].span);
        for (int i = 0; i < leafy_; ++i) insert_span(leafing_[i].span);
        for (int i = 0; i + 1 < cuts; ++i) {
            const V middle = V(0.5F) * (cut_[i] + cut_[i + 1]);
            const M open = (cut_[i] < cut_[i + 1]) & !hidden(middle);
            if (!xsimd::any(open)) continue;
            piece(xsimd::select(open, cut_[i], s0), xsimd::select(open, cut_[i + 1], s0));
        }
    }

    // What screens and leaves let through of light from the lamp's place s, `to_source` away along w.
    V let_through(const V& s, const T3& to_source, const T3& w) const {
        V tau(1.0F);
        for (int i = 0; i < crossed_; ++i) {
            const M crossed = within(s, crossing_[i].span);
            if (!xsimd::any(crossed)) continue;
            tau = xsimd::select(crossed, tau * screen_transmittance(*crossing_[i].what, w), tau);
        }
        bool any_leaves = false;
        V depth(0.0F);
        for (int i = 0; i < leafy_; ++i) {
            if (!xsimd::any(within(s, leafing_[i].span))) continue;
            any_leaves = true;
            const KernelFoliage& leaves = *leafing_[i].what;
            depth = xsimd::fma(V(leaves.extinction), path_inside(leaves.body, to_source), depth);
        }
        if (any_leaves) tau = tau * xsimd::exp(-depth);
        return tau;
    }

    static M within(const V& s, const Interval<V>& span) { return (span.lo <= s) & (s <= span.hi); }

    V screen_transmittance(const KernelScreen& screen, const T3& w) const {
        const V n = xsimd::abs(screen.axis == 0 ? w.x : screen.axis == 1 ? w.y : w.z);
        if (screen.table != nullptr) return looked_up(screen.table, place_in(pane_table_steps, n));
        if (screen.wire_over_pitch <= 0) return V(screen.transmittance);
        const V u = screen.axis == 0 ? w.y : w.x, v = screen.axis == 2 ? w.y : w.z;
        const V ratio(screen.wire_over_pitch), zero(0.0F), one(1.0F), nn = n * n;
        const V inverse = one / xsimd::max(n, V(1e-6F));
        const V tau_u = xsimd::max(zero, one - ratio * xsimd::sqrt(u * u + nn) * inverse);
        const V tau_v = xsimd::max(zero, one - ratio * xsimd::sqrt(v * v + nn) * inverse);
        return tau_u * tau_v;
    }

    template <class I>
    static V gathered(const float* table, const I& step) {  // xsimd 8 does so number by number
#if defined(__AVX512F__)
        return _mm512_i32gather_ps(step, table, sizeof(float));
#elif defined(__AVX2__)
        return _mm256_i32gather_ps(table, step, sizeof(float));
#else
        return V::gather(table, step);
#endif
    }

    using I = xsimd::batch<std::int32_t, Arch>;
    struct Place {  // in a table of equal steps of 0..1
        I step;
        V rest;
    };
    static Place place_in(int steps, const V& at) {
        const V position = xsimd::min(at, V(1.0F)) * V(static_cast<float>(steps));
        const I step = xsimd::min(xsimd::to_int(position), I(steps - 1));
        return {step, position - xsimd::to_float(step)};
    }
    static V between(const V& below, const V& above, const V& rest) {
        return xsimd::fma(rest, above - below, below);
    }
    static V looked_up(const float* table, const Place& at) {
        return between(gathered(table, at.step), gathered(table + 1, at.step), at.rest);
    }

    // What a point of a disc or a bar sends along -w, relative to its aim.
    V lobe(const T3& w, const T3& aim) const {
        const V cosine = -dot(w, aim);
        if (lamp_.lobe == nullptr) return xsimd::select(cosine > V(0.0F), power(cosine, lamp_.k), V(0.0F));
        const Place at = place_in(lobe_steps, xsimd::sqrt(xsimd::max(V(0.0F), V(0.5F) * (V(1.0F) - cosine))));
        if (lamp_.lobe_rows == 1) return looked_up(lamp_.lobe, at);
        const T3 along = spread(lamp_.along);
        const T3 across{aim.y * along.z - aim.z * along.y, aim.z * along.x - aim.x * along.z,
                        aim.x * along.y - aim.y * along.x};
        constexpr float per_turn = 0.15915494F;
        const V turn = V(per_turn) * xsimd::atan2(-dot(w, across), -dot(w, along));
        const Place row = place_in(lamp_.lobe_rows, xsimd::select(turn < V(0.0F), turn + V(1.0F), turn));
        const I next = xsimd::select(row.step + I(1) == I(lamp_.lobe_rows), I(0), row.step + I(1));
        const I stride(lobe_steps + 1);
        const Place here{row.step * stride + at.step, at.rest}, there{next * stride + at.step, at.rest};
        return between(looked_up(lamp_.lobe, here), looked_up(lamp_.lobe, there), row.rest);
    }

    // Metres of the way x -> x + d inside a box or an ellipsoid.
    V path_inside(const BodyOf<float>& body, const T3& d_world) const {
        const T3 o = move_into(body, x_), d = turn_into(body, d_world);
        const V zero(0.0F), one(1.0F);
        V enter = zero, leave = one;
        if (body.kind == BodyKind::ellipsoid) {
            const V ix(1 / body.half[0]), iy(1 / body.half[1]), iz(1 / body.half[2]);
            const T3 so{o.x * ix, o.y * iy, o.z * iz}, sd{d.x * ix, d.y * iy, d.z * iz};
            const V a = dot(sd, sd), b = dot(so, sd), c = dot(so, so) - one;
            const V disc = b * b - a * c;
            const V w = xsimd::sqrt(xsimd::max(disc, zero));
            enter = xsimd::max(enter, (-b - w) / a);
            leave = xsimd::select(disc > zero, xsimd::min(leave, (-b + w) / a), zero);
        } else {
            auto slab = [&](const V& origin, const V& direction, float half) {
                const V inverse =
                    one / xsimd::select(xsimd::abs(direction) < V(1e-12F), V(1e-12F), direction);
                const V t1 = (V(-half) - origin) * inverse, t2 = (V(half) - origin) * inverse;
                enter = xsimd::max(enter, xsimd::min(t1, t2));
                leave = xsimd::min(leave, xsimd::max(t1, t2));
            };
            slab(o.x, d.x, body.half[0]);
            slab(o.y, d.y, body.half[1]);
            slab(o.z, d.z, body.half[2]);
        }
        return xsimd::max(zero, leave - enter) * xsimd::sqrt(dot(d_world, d_world));
    }

    bool dimmed() const {
        return crossed_ > 0 || leafy_ > 0;
    }

    // ---- tube -----------------------------------------------------------------------------------------------------
    struct TubeView {
        T3 e;        // unit, towards the axis
        V distance;  // to the axis
        V foot;      // s of the nearest place of the axis
        V unit;      // intensity / distance
        V ne, na;    // receiver's normal along e and along the axis
    };

    struct Primitive {
        V along_e, along_a;
    };
    // Integrals of cos(alpha) w dalpha up to s.
    static Primitive primitive(const TubeView& t, const V& s) {
        const V rel = s - t.foot;
        const V inverse = V(1.0F) / xsimd::sqrt(xsimd::fma(rel, rel, t.distance * t.distance));
        const V sine = rel * inverse, cosine = t.distance * inverse;
        return {V(0.5F) * xsimd::fma(sine, cosine, xsimd::atan(rel / t.distance)), V(0.5F) * sine * sine};
    }

    void tube() {
        const T3 a = spread(lamp_.along), centre = spread(lamp_.centre);
        const T3 r{centre.x - x_.x, centre.y - x_.y, centre.z - x_.z};
        TubeView t;
        t.foot = -dot(r, a);
        const T3 to_axis{xsimd::fma(t.foot, a.x, r.x), xsimd::fma(t.foot, a.y, r.y),
                         xsimd::fma(t.foot, a.z, r.z)};
        t.distance = xsimd::max(xsimd::sqrt(dot(to_axis, to_axis)), V(1e-6F));
        const V inverse = V(1.0F) / t.distance;
        t.e = {to_axis.x * inverse, to_axis.y * inverse, to_axis.z * inverse};
        V intensity(1.0F);
        if (lamp_.forward_power >= 0) {
            const V cos_phi = -dot(t.e, spread(lamp_.aim));
            intensity = xsimd::select(cos_phi > V(0.0F), power(cos_phi, lamp_.forward_power), V(0.0F));
            if (!xsimd::any(cos_phi > V(0.0F))) return;
        }
        V s0(-lamp_.half_length), s1(lamp_.half_length);
        if (points_.nx != nullptr) {
            t.ne = dot(n_, t.e);
            t.na = dot(n_, a);
            Interval<V> front{s0, s1};
            shadow_detail::narrow(front, t.ne * t.distance - t.na * t.foot, t.na);
            s0 = front.lo;
            s1 = xsimd::max(front.lo, front.hi);
            if (!xsimd::any(s0 < s1)) return;
        }
        t.unit = intensity * inverse;
        const T3 across{a.y * t.e.z - a.z * t.e.y, a.z * t.e.x - a.x * t.e.z, a.x * t.e.y - a.y * t.e.x};
        float shift = 0.5F;                 // of the rays among meshes
        auto strip = [&](const V& place) {  // what a strip there would give if it were the whole tube
            const V offset = V(lamp_.radius) * place;
            const T3 p{xsimd::fma(offset, across.x, centre.x), xsimd::fma(offset, across.y, centre.y),
                       xsimd::fma(offset, across.z, centre.z)};
            sum_ = {V(0.0F), V(0.0F), V(0.0F)};
            find_shadows(p, a, s0, s1);
            find_dimmers(p, a, s0, s1);
            if (meshed_) {
                tube_by_rays(t, p, a, s0, s1, shift);
            } else if (dimmed() || points_.back != nullptr) {
                tube_by_nodes(t, p, a, s0, s1);
            } else {
                tube_in_closed_form(t, a, s0, s1);
            }
            return sum_;
        };
        if (meshed_) {  // rays see steps, and no rule for smooth light helps: even strips, each with its rays shifted
            T3 all{V(0.0F), V(0.0F), V(0.0F)};
            const int pieces = lamp_.pieces > 0 ? lamp_.pieces : 2;
            const V share(1.0F / static_cast<float>(pieces));
            for (int i = 0; i < pieces; ++i) {
                shift = static_cast<float>(i) * 0.61803399F + 0.5F;
                shift -= static_cast<float>(static_cast<int>(shift));
                const T3 one = strip(V(static_cast<float>(2 * i + 1) / static_cast<float>(pieces) - 1.0F));
                all = {xsimd::fma(one.x, share, all.x), xsimd::fma(one.y, share, all.y),
                       xsimd::fma(one.z, share, all.z)};
            }
            sum_ = all;
            return;
        }
        if (bodies_ == 0) {
            sum_ = strip(V(0.0F));
            return;
        }
        if (lamp_.pieces == 0) {  // Gauss-Legendre of two nodes
            const T3 one = strip(V(-0.57735027F)), two = strip(V(0.57735027F));
            sum_ = {V(0.5F) * (one.x + two.x), V(0.5F) * (one.y + two.y), V(0.5F) * (one.z + two.z)};
            return;
        }
        sum_ = across_the_width(strip);
    }

    static V size(const T3& v) {
        return xsimd::abs(v.x) + xsimd::abs(v.y) + xsimd::abs(v.z);
    }

    // The mean over a tube's width of what its strips give. Mostly they change evenly, if at all: four strips and Simpson's
    // 3/8 rule. Where they do not, a shadow's edge lies along the tube: the step between two strips is halved, each lane
    // its own, the one that leaves most in doubt first, and the strips are joined by trapezia.
    template <class Strip>
    T3 across_the_width(const Strip& strip) {
        width_[0] = {V(-1.0F), strip(V(-1.0F))};
        width_[1] = {V(-1.0F / 3), strip(V(-1.0F / 3))};
        width_[2] = {V(1.0F / 3), strip(V(1.0F / 3))};
        width_[3] = {V(1.0F), strip(V(1.0F))};
        int count = 4;
        auto bend = [](const T3& l, const T3& m, const T3& n) {
            return xsimd::abs(l.x - V(2.0F) * m.x + n.x) + xsimd::abs(l.y - V(2.0F) * m.y + n.y) +
                   xsimd::abs(l.z - V(2.0F) * m.z + n.z);
        };
        const T3 &a = width_[0].light, &b = width_[1].light, &c = width_[2].light, &d = width_[3].light;
        const V all = size(a) + size(b) + size(c) + size(d);
        const M rough = bend(a, b, c) + bend(b, c, d) > V(0.005F) * all;
        auto simpson = [](const V& l, const V& m, const V& n, const V& o) {
            return (l + V(3.0F) * (m + n) + o) * V(1.0F / 8.0F);
        };
        const T3 even{simpson(a.x, b.x, c.x, d.x), simpson(a.y, b.y, c.y, d.y), simpson(a.z, b.z, c.z, d.z)};
        if (!xsimd::any(rough)) return even;
        const V enough = xsimd::select(rough, V(0.002F) * all, V(1e30F));
        while (count < 4 + lamp_.pieces && count < most_strips) {
            V worst(0.0F), place(0.0F);
            for (int i = 0; i + 1 < count; ++i) {
                const T3 &l = width_[i].light, &r = width_[i + 1].light;
                const V gap = width_[i + 1].place - width_[i].place;
                const V doubt = gap * size({r.x - l.x, r.y - l.y, r.z - l.z});
                const M more = doubt > worst;
                worst = xsimd::select(more, doubt, worst);
                place = xsimd::select(more, width_[i].place + V(0.5F) * gap, place);
            }
            if (!xsimd::any(worst > enough)) break;
            insert({place, strip(place)}, count++);
        }
        T3 joined{V(0.0F), V(0.0F), V(0.0F)};
        for (int i = 0; i + 1 < count; ++i) {
            const T3 &l = width_[i].light, &r = width_[i + 1].light;
            const V share = V(0.25F) * (width_[i + 1].place - width_[i].place);
            joined = {xsimd::fma(share, l.x + r.x, joined.x), xsimd::fma(share, l.y + r.y, joined.y),
                      xsimd::fma(share, l.z + r.z, joined.z)};
        }
        return {xsimd::select(rough, joined.x, even.x), xsimd::select(rough, joined.y, even.y),
                xsimd::select(rough, joined.z, even.z)};
    }

    struct Strip {
        V place;  // across the width, -1..1
        T3 light;
    };
    void insert(Strip strip, int count) {
        for (int i = 0; i < count; ++i) {
            const M before = strip.place < width_[i].place;
            const Strip old = width_[i];
            auto choose = [&](const V& yes, const V& no) { return xsimd::select(before, yes, no); };
            width_[i] = {choose(strip.place, old.place),
                         {choose(strip.light.x, old.light.x), choose(strip.light.y, old.light.y),
                          choose(strip.light.z, old.light.z)}};
            strip = {choose(old.place, strip.place),
                     {choose(old.light.x, strip.light.x), choose(old.light.y, strip.light.y),
                      choose(old.light.z, strip.light.z)}};
        }
        width_[count] = strip;
    }

    void tube_in_closed_form(const TubeView& t, const T3& a, const V& s0, const V& s1) {
        V along_e(0.0F), along_a(0.0F), cursor = s0;
        Primitive begun = primitive(t, s0);
        auto close = [&](const V& s) {  // the visible piece from the cursor to s
            const M open = s > cursor;
            if (!xsimd::any(open)) return;
            const Primitive ended = primitive(t, s);
            along_e += xsimd::select(open, ended.along_e - begun.along_e, V(0.0F));
            along_a += xsimd::select(open, ended.along_a - begun.along_a, V(0.0F));
        };
        for (int i = 0; i < hits_; ++i) {
            close(xsimd::min(lo_[i], s1));
            const V moved = xsimd::max(cursor, xsimd::min(hi_[i], s1));
            if (xsimd::any(moved > cursor)) {
                cursor = moved;
                begun = primitive(t, cursor);
            }
        }
        close(s1);
        along_e *= t.unit;
        along_a *= t.unit;
        if (points_.nx != nullptr) {
            sum_.x += xsimd::max(V(0.0F), xsimd::fma(along_e, t.ne, along_a * t.na));
        } else {
            sum_.x += xsimd::fma(along_e, t.e.x, along_a * a.x);
            sum_.y += xsimd::fma(along_e, t.e.y, along_a * a.y);
            sum_.z += xsimd::fma(along_e, t.e.z, along_a * a.z);
        }
    }

    void tube_by_nodes(const TubeView& t, const T3& p, const T3& a, const V& s0, const V& s1) {
        for_pieces(s0, s1, [&](const V& lo, const V& hi) {
            auto sine = [&](const V& s) {
                const V rel = s - t.foot;
                return rel / xsimd::sqrt(xsimd::fma(rel, rel, t.distance * t.distance));
            };
            const V v0 = sine(lo), range = sine(hi) - v0;
            for (int i = 0; i < nodes; ++i) {
                const V v = xsimd::fma(range, V(node[i]), v0);
                const V cosine = xsimd::sqrt(xsimd::max(V(1e-12F), V(1.0F) - v * v));
                const T3 w{xsimd::fma(cosine, t.e.x, v * a.x), xsimd::fma(cosine, t.e.y, v * a.y),
                           xsimd::fma(cosine, t.e.z, v * a.z)};
                const V s = xsimd::fma(t.distance, v / cosine, t.foot);
                const T3 d{xsimd::fma(s, a.x, p.x) - x_.x, xsimd::fma(s, a.y, p.y) - x_.y,
                           xsimd::fma(s, a.z, p.z) - x_.z};
                receive(w, t.unit * range * V(node_weight[i]) * let_through(s, d, w));
            }
        });
    }

    // The same among meshes: rays at equal steps of sin(alpha), which carry equal energy.
    void tube_by_rays(const TubeView& t, const T3& p, const T3& a, const V& s0, const V& s1, float shift) {
        auto sine = [&](const V& s) {
            const V rel = s - t.foot;
            return rel / xsimd::sqrt(xsimd::fma(rel, rel, t.distance * t.distance));
        };
        const V whole = xsimd::max(sine(s1) - sine(s0), V(1e-6F));
        for_pieces(s0, s1, [&](const V& lo, const V& hi) {
            const V v0 = sine(lo), range = sine(hi) - v0;
            const auto wanted = 1 + static_cast<int>(static_cast<float>(rays - 1) * highest(range / whole));
            const V share(1.0F / static_cast<float>(wanted));
            for (int i = 0; i < wanted; ++i) {
                const V v = xsimd::fma(range * share, V(static_cast<float>(i) + shift), v0);
                const V cosine = xsimd::sqrt(xsimd::max(V(1e-12F), V(1.0F) - v * v));
                const V s = xsimd::fma(t.distance, v / cosine, t.foot);
                const T3 w{xsimd::fma(cosine, t.e.x, v * a.x), xsimd::fma(cosine, t.e.y, v * a.y),
                           xsimd::fma(cosine, t.e.z, v * a.z)};
                bundle_[i] = {s, w,
                              T3{xsimd::fma(s, a.x, p.x) - x_.x, xsimd::fma(s, a.y, p.y) - x_.y,
                                 xsimd::fma(s, a.z, p.z) - x_.z},
                              V(0.0F)};
            }
            look_past_meshes(wanted, range > V(0.0F));
            for (int i = 0; i < wanted; ++i) {
                const Ray& ray = bundle_[i];
                const V seen = dimmed() ? ray.seen * let_through(ray.s, ray.way, ray.w) : ray.seen;
                receive(ray.w, t.unit * range * share * seen);
            }
        });
    }

    struct Ray {
        V s;  // where on the lamp
        T3 w, way;
        V seen;
    };

    // Sets `seen` of the bundle's rays, to 1 where no mesh stands in the way. Rays of one point go together, sixteen at a
    // time: neighbours in angle are the more coherent.
    void look_past_meshes(int count, const M& wanted) {
        alignas(64) float want[V::size], from[3][V::size];
        xsimd::select(wanted, V(1.0F), V(0.0F)).store_aligned(want);
        x_.x.store_aligned(from[0]);
        x_.y.store_aligned(from[1]);
        x_.z.store_aligned(from[2]);
        float* seen[kernel_padding];
        int filled = 0;
        auto ask = [&] {
            scene_.meshes.occluded(scene_.meshes.meshes, rays_, filled);
            for (int i = 0; i < filled; ++i) *seen[i] = rays_.visible[i];
            filled = 0;
        };
        for (std::size_t lane = 0; lane < V::size; ++lane) {
            if (want[lane] == 0.0F) continue;
            for (int i = 0; i < count; ++i) {
                Ray& ray = bundle_[i];
                rays_.from[0][filled] = from[0][lane];
                rays_.from[1][filled] = from[1][lane];
                rays_.from[2][filled] = from[2][lane];
                rays_.way[0][filled] = lanes_of(ray.way.x)[lane];
                rays_.way[1][filled] = lanes_of(ray.way.y)[lane];
                rays_.way[2][filled] = lanes_of(ray.way.z)[lane];
                seen[filled++] = lanes_of(ray.seen) + lane;
                if (filled == static_cast<int>(kernel_padding)) ask();
            }
        }
        if (filled > 0) ask();
    }
    // Vector types may be read as what they are vectors of (GCC's and Clang's __may_alias__).
    static float* lanes_of(V& v) {
        return reinterpret_cast<float*>(&v);
    }

    // 1 where no mesh stands on the way x -> x + d.
    V past_meshes(const T3& d) {
        x_.x.store_aligned(rays_.from[0]);
        x_.y.store_aligned(rays_.from[1]);
        x_.z.store_aligned(rays_.from[2]);
        d.x.store_aligned(rays_.way[0]);
        d.y.store_aligned(rays_.way[1]);
        d.z.store_aligned(rays_.way[2]);
        scene_.meshes.occluded(scene_.meshes.meshes, rays_, static_cast<int>(V::size));
        return V::load_aligned(rays_.visible);
    }

    // ---- disc -----------------------------------------------------------------------------------------------------
    void disc() {
        const T3 u = spread(lamp_.along), aim = spread(lamp_.aim), centre = spread(lamp_.centre);
        const T3 v{aim.y * u.z - aim.z * u.y, aim.z * u.x - aim.x * u.z, aim.x * u.y - aim.y * u.x};
        const T3 below{x_.x - centre.x, x_.y - centre.y, x_.z - centre.z};
        if (lamp_.lobe == nullptr && !xsimd::any(dot(below, aim) > V(0.0F))) return;
        constexpr float pi = 3.14159265F;
        for (int chord = 1; chord <= lamp_.pieces; ++chord) {
            const float angle = pi * static_cast<float>(chord) / static_cast<float>(lamp_.pieces + 1);
            const float cosine = __builtin_cosf(angle), sine = __builtin_sinf(angle);
            const V offset(lamp_.radius * cosine), half(lamp_.radius * sine);
            const V width(lamp_.radius * pi / static_cast<float>(lamp_.pieces + 1) * sine);
            const T3 p{xsimd::fma(offset, v.x, centre.x), xsimd::fma(offset, v.y, centre.y),
                       xsimd::fma(offset, v.z, centre.z)};
            find_shadows(p, u, -half, half);
            find_dimmers(p, u, -half, half);
            for_pieces(-half, half, [&](const V& lo, const V& hi) {
                const int count = meshed_ ? nodes : few_nodes;
                for (int i = 0; i < count; ++i) {
                    const V s = xsimd::fma(hi - lo, V(meshed_ ? node[i] : few_node[i]), lo);
                    const V share(meshed_ ? node_weight[i] : few_node_weight[i]);
                    point_light(s,
                                T3{xsimd::fma(s, u.x, p.x), xsimd::fma(s, u.y, p.y), xsimd::fma(s, u.z, p.z)},
                                aim, width * (hi - lo) * share);
                }
            });
        }
    }

    void point_light(const V& s, const T3& source, const T3& aim, const V& amount) {
        const T3 d{source.x - x_.x, source.y - x_.y, source.z - x_.z};
        const V rr = xsimd::max(dot(d, d), V(1e-12F));
        const V inverse = V(1.0F) / xsimd::sqrt(rr);
        const T3 w{d.x * inverse, d.y * inverse, d.z * inverse};
        V weight = amount * lobe(w, aim) * inverse * inverse;
        if (dimmed()) weight = weight * let_through(s, d, w);
        if (meshed_) weight = weight * past_meshes(d);
        receive(w, weight);
    }

    // ---- points in a row --------------------------------------------------------------------------------------------
    void row() {
        const T3 a = spread(lamp_.along), aim = spread(lamp_.aim), p = spread(lamp_.centre);
        const V half(lamp_.half_length > 1e-3F ? lamp_.half_length : 1e-3F);
        find_shadows(p, a, -half, half);
        find_dimmers(p, a, -half, half);
        for (int i = 0; i < lamp_.count; ++i) {
            const float place = (static_cast<float>(i) + 0.5F) / static_cast<float>(lamp_.count) - 0.5F;
            const V s(2 * lamp_.half_length * place);
            const M dark = hidden(s);
            const T3 source{xsimd::fma(s, a.x, p.x), xsimd::fma(s, a.y, p.y), xsimd::fma(s, a.z, p.z)};
            point_light(s, source, aim, xsimd::select(dark, V(0.0F), V(1.0F)));
        }
    }

    // Gauss-Legendre on [0, 1] (Abramowitz & Stegun 25.4.30), 8 and 3 points.
    static constexpr int nodes = 8;
    static constexpr float node[nodes] = {0.01985507F, 0.10166676F, 0.23723380F, 0.40828268F,
                                          0.59171732F, 0.76276620F, 0.89833324F, 0.98014493F};
    static constexpr float node_weight[nodes] = {0.05061427F, 0.11119052F, 0.15685332F, 0.18134189F,
                                                 0.18134189F, 0.15685332F, 0.11119052F, 0.05061427F};
    static constexpr int most_strips = 20;  // across a tube's width
    static constexpr int rays = 16;         // along a strip, among meshes
    static constexpr int few_nodes = 3;
    static constexpr float few_node[few_nodes] = {0.11270167F, 0.5F, 0.88729833F};
    static constexpr float few_node_weight[few_nodes] = {0.27777778F, 0.44444444F, 0.27777778F};

    const KernelScene& scene_;
    const KernelLamp& lamp_;
    const KernelPoints& points_;
    const KernelResult& result_;
    const BodyOf<float>* block_body_[kernel_most_bodies];
    const BodyOf<float>* body_[kernel_most_bodies];
    int screen_[kernel_most_dimmers], leaves_[kernel_most_dimmers];
    int block_bodies_ = 0, bodies_ = 0, screens_ = 0, foliage_ = 0, hits_ = 0, crossed_ = 0, leafy_ = 0;
    bool meshed_ = false;
    KernelRays rays_;
    Strip width_[most_strips];
    Ray bundle_[rays];
    T3 x_, n_, sum_;
    V lo_[kernel_most_bodies], hi_[kernel_most_bodies];
    V cut_[2 * kernel_most_bodies + 4 * kernel_most_dimmers + 2];
    template <class What>
    struct Dimmer {
        const What* what;
        Interval<V> span;  // of the lamp's places from which light comes through it
    };
    Dimmer<KernelScreen> crossing_[kernel_most_dimmers];
    Dimmer<KernelFoliage> leafing_[kernel_most_dimmers];
};

}  // namespace dapple::light
