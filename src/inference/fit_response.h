// How the light at a place answers to what a keeper cannot know exactly: each lamp's output, each screen's
// transmittance, each plant's density. Worked out once for each place, so that fitting and drawing cost nothing.
//
// Light of lamp l at a place is
//     light_l  exp(a_l)  prod_k bend_k(s_k)
//   screen   bend = 1 - f + f exp(s)    f: the share of the light that comes through it (exact for direct light)
//   foliage  bend = exp(b s + c s^2)    from the density one prior sd up and down (Monsi & Saeki 1953 in between),
//                                       continued with its slope beyond
// s is the logarithm of the factor on transmittance or density. Shares and bends are those of the direct light;
// reflected light is taken to answer likewise, and where no direct light arrives, as the lamp's light does on average.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "light/field.h"
#include "scene/enclosure.h"

namespace dapple::inference {

// Something unknown, as the logarithm of a factor whose prior median is 1.
struct Unknown {
    enum class Kind { lamp, screen, foliage, spectrum, meter };
    Kind kind;
    int index;       // of the lamp, screen or foliage in the enclosure; of the lamp for `spectrum`; else -1
    std::string of;  // for answers: the thing's id; a meter's name
    std::string words;  // for sentences: "the output of UV tube"
    double sd;          // of the prior
    std::string group;  // spectrum and meter: which readings it bears on
};

// Light at some places.
struct Response {
    struct Bend {
        double a = 0;  // screen: the share through it; foliage: b
        double c = 0;  // foliage only
    };
    std::vector<std::vector<double>> light;             // [lamp][place]
    std::vector<std::vector<std::vector<Bend>>> bends;  // [attenuator][lamp][place]

    std::size_t places() const { return light.empty() ? 0 : light.front().size(); }
};

class ResponseField {
  public:
    // `unknowns` begins with lamps, then screens and foliage, in that order; the rest is none of the field's concern.
    ResponseField(const scene::Enclosure& enclosure, std::vector<Unknown> unknowns,
                  const light::FieldOptions& options);

    const light::Field& field() const { return field_; }
    const light::Field& direct() const { return direct_; }  // without reflections
    const scene::Enclosure& enclosure() const { return field_.enclosure(); }

    // By Field::at for the UVI where `exact`, else by Field::values_by_lamp.
    Response at(std::span<const scene::Vec3> points, spectrum::Quantity quantity, const light::Facing& facing,
                bool exact) const;

    // The light at a place for values of the unknowns; and its derivatives by them, where wanted (set, not added).
    // `also`, by lamp, names one more unknown whose factor that lamp's light has, or -1; empty: none.
    double value(const Response& response, std::size_t place, const double* unknowns,
                 std::span<const int> also = {}, Eigen::VectorXd* derivatives = nullptr) const;

    // The light at all the places of a response, as `value` has it for each.
    std::vector<double> values(const Response& response, const double* unknowns) const;

  private:
    struct Changed {
        std::size_t unknown;
        std::vector<light::Field> fields;  // direct light only: one for a screen, two for foliage
        std::vector<std::vector<double>>
            on_average;  // [field][lamp]: the ratio where no direct light arrives
    };
    std::vector<std::vector<Response::Bend>> bends(const Changed& changed,
                                                   std::span<const scene::Vec3> points,
                                                   spectrum::Quantity quantity, const light::Facing& facing,
                                                   const std::vector<std::vector<double>>& direct) const;

    std::vector<Unknown> unknowns_;
    light::Field field_;
    light::Field direct_;
    std::vector<Changed> changed_;
    std::vector<int> lamp_unknown_;  // by lamp: its output's place among the unknowns, or -1
};

}  // namespace dapple::inference
