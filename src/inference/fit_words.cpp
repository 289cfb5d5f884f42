#include "inference/fit_words.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>

namespace dapple::inference {

namespace {

using scene::Vec3;
using spectrum::Quantity;

// How many standard deviations a likely cause may leave unexplained.
constexpr double explained = 2;

std::string number(double value) {
    return value >= 100 ? fmt::format("{:.0f}", value) : fmt::format("{:.2g}", value);
}

struct UnitSlip {
    Quantity quantity;
    double factor;
    const char* words;
};
// UVI = 40 x erythemal W/m2, so 1 UVI is 25 mW/m2; the others are powers of ten between units.
constexpr std::array unit_slips = {
    UnitSlip{Quantity::uvi, 25, "it may be in mW/m2 instead of UVI"},
    UnitSlip{Quantity::uvi, 2.5, "it may be in uW/cm2 instead of UVI"},
    UnitSlip{Quantity::uvb, 100, "it may be in uW/cm2 instead of W/m2"},
    UnitSlip{Quantity::uva, 100, "it may be in uW/cm2 instead of W/m2"},
    UnitSlip{Quantity::lux, 1e-3, "it may be in thousands of lux"},
};

class Causes {
  public:
    Causes(const ResponseField& field, const std::vector<Unknown>& unknowns, const Observation& seen,
           const Reading& reading, const Eigen::VectorXd& mean)
        : field_(field), unknowns_(unknowns), seen_(seen), reading_(reading), mean_(mean) {}

    std::string likely() const {
        const Expectation expected = expect(field_, seen_, mean_);
        const std::string found =
            fmt::format("{} where {} is expected", number(seen_.value), number(expected.expected));
        std::vector<std::string> causes;
        if (const auto unit = unit_slip(expected)) causes.push_back(*unit);
        if (seen_.value < expected.expected) {
            if (causes.empty()) causes.emplace_back("something may have stood in the way, a leaf or a hand");
            if (const auto lamp = lamp_off()) causes.push_back(*lamp + " was off");
        }
        if (const auto height = other_height(expected.sd))
            causes.push_back("the meter may have been " + *height);
        if (causes.empty())
            causes.emplace_back("light of another lamp may have been with it, or the place is another");
        return fmt::format("{}: {}.", found, fmt::join(causes, ", or "));
    }

  private:
    bool fits(double logarithm, double sd) const {
        return std::abs(std::log(seen_.value + seen_.floor) - logarithm) < explained * sd;
    }

    std::optional<std::string> unit_slip(const Expectation& expected) const {
        for (const UnitSlip& slip : unit_slips) {
            if (slip.quantity != reading_.quantity) continue;
            if (fits(std::log(slip.factor * expected.expected + seen_.floor), expected.sd)) return slip.words;
        }
        return std::nullopt;
    }

    std::optional<std::string> lamp_off() const {
        for (const Unknown& unknown : unknowns_) {
            if (unknown.kind != Unknown::Kind::lamp) continue;
            Observation without = seen_;
            without.response.light[static_cast<std::size_t>(unknown.index)].assign(1, 0.0);
            const Expectation dark = expect(field_, without, mean_);
            if (fits(dark.logarithm, dark.sd)) {
                return field_.enclosure().lamps[static_cast<std::size_t>(unknown.index)].name;
            }
        }
        return std::nullopt;
    }

    // "8 cm higher", where a wrong height alone explains the reading.
    std::optional<std::string> other_height(double sd) const {
        for (const int centimetres : {2, 4, 6, 8, 10, 12, 15, 20}) {
            for (const int sign : {1, -1}) {
                const Vec3 place = reading_.point + Vec3(0, 0, sign * centimetres / 100.0);
                if (place.z() < 0 || place.z() > field_.enclosure().size.z()) continue;
                Observation there = seen_;
                there.response = field_.at(std::span(&place, 1), *reading_.quantity, reading_.facing, false);
                const Expectation expected = expect(field_, there, mean_);
                if (expected.expected > 0 &&
                    std::abs(std::log(seen_.value + seen_.floor) - expected.logarithm) < sd) {
                    return fmt::format("{} cm {}", centimetres, sign > 0 ? "higher" : "lower");
                }
            }
        }
        return std::nullopt;
    }

    const ResponseField& field_;
    const std::vector<Unknown>& unknowns_;
    const Observation& seen_;
    const Reading& reading_;
    const Eigen::VectorXd& mean_;
};

}  // namespace

std::string why_set_aside(const ResponseField& field, const std::vector<Unknown>& unknowns,
                          const Observation& seen, const Reading& reading, const Eigen::VectorXd& mean) {
    return Causes(field, unknowns, seen, reading, mean).likely();
}

std::vector<std::string> what_cannot_be_told(const std::vector<Unknown>& unknowns,
                                             const Eigen::MatrixXd& covariance) {
    constexpr double as_before = 0.95;  // of the prior's sd left: the readings said nothing
    constexpr double traded = -0.6;     // correlation from which one is told only together with the other
    std::vector<std::string> sentences;
    const auto left = [&](std::size_t i) {
        const auto k = static_cast<Eigen::Index>(i);
        return std::sqrt(covariance(k, k)) / unknowns[i].sd;
    };
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        // Shares of the spectrum and meters matter only together with the lamps they multiply.
        if (unknowns[i].kind == Unknown::Kind::meter || unknowns[i].kind == Unknown::Kind::spectrum) continue;
        if (left(i) > as_before) sentences.push_back(fmt::format("No reading tells {}.", unknowns[i].words));
    }
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        for (std::size_t j = i + 1; j < unknowns.size(); ++j) {
            const auto a = static_cast<Eigen::Index>(i);
            const auto b = static_cast<Eigen::Index>(j);
            const double correlation = covariance(a, b) / std::sqrt(covariance(a, a) * covariance(b, b));
            if (std::abs(correlation) < -traded) continue;
            sentences.push_back(fmt::format("The readings cannot tell {} from {}, only the two together.",
                                            unknowns[i].words, unknowns[j].words));
        }
    }
    return sentences;
}

std::vector<std::string> what_is_unlikely(const std::vector<Unknown>& unknowns, const Eigen::VectorXd& mean) {
    constexpr double unlikely = 4;  // prior sds: one thing in 16,000
    std::vector<std::string> sentences;
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        const double at = mean[static_cast<Eigen::Index>(i)];
        if (unknowns[i].kind == Unknown::Kind::meter || unknowns[i].kind == Unknown::Kind::spectrum) continue;
        if (std::abs(at) < unlikely * unknowns[i].sd) continue;
        sentences.push_back(fmt::format(
            "The readings want {} to be {} times what the document says, further off than is likely: "
            "look at the document, at the meter and at the unit of the readings.",
            unknowns[i].words, number(std::exp(at))));
    }
    return sentences;
}

}  // namespace dapple::inference
