// Reading one JSON object field by field. Whatever is wrong is noted with its place and the reading goes on,
// so that a person sees all faults at once; a field nobody asked for is a fault too.
#pragma once

#include <array>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "problem/problem.h"
#include "scene/geometry.h"
#include "scene/json_text.h"

namespace dapple::scene {

// All faults of one document, at most a few hundred: behind those nobody reads on.
class Faults {
  public:
    explicit Faults(std::string file) : file_(std::move(file)) {}

    const std::string& file() const { return file_; }
    bool none() const { return problems_.empty(); }
    void add(const std::string& place, std::string found, std::string allowed);
    Problems take() && { return std::move(problems_); }

  private:
    std::string file_;
    Problems problems_;
};

// Which numbers a field takes. `unit` is for the message only.
struct Limits {
    double least;
    double most;
    std::string_view unit = {};
    bool without_least = false;  // then `least` itself is not allowed

    bool hold(double value) const {
        return (without_least ? value > least : value >= least) && value <= most;
    }
    std::string words() const;  // "a number from 0 to 24"
};

inline constexpr double longest_cm = 10000;  // 100 m: no enclosure, but far enough from trouble with squares
inline constexpr Limits any_cm = {-longest_cm, longest_cm, "cm"};
inline constexpr double smallest_cm = 0.001;  // 10 um: thinner things are slips of the unit
inline constexpr Limits size_cm = {smallest_cm, longest_cm, "cm"};
inline constexpr Limits any_size_cm = {0, longest_cm, "cm"};
inline constexpr Limits positive = {0, 1e9, {}, true};
inline constexpr Limits not_negative = {0, 1e9};
inline constexpr Limits share = {0, 1};

class Fields {
  public:
    // `what` names the thing in messages: "a tube", "an animal".
    Fields(const Json& value, std::string place, std::string what, Faults& faults);

    bool has(std::string_view field) const;  // does not count as asking for it
    std::string place(std::string_view field) const { return below(place_, field); }
    const std::string& place() const { return place_; }
    Faults& faults() const { return faults_; }

    // The value of a field, or null when it is not there.
    const Json* find(std::string_view field);
    // The same, where its absence is a fault.
    const Json* need(std::string_view field, const std::string& allowed);

    // Each gives nothing when the field is absent or faulty; `need_` makes absence a fault.
    std::optional<double> number(std::string_view field, const Limits& limits);
    std::optional<double> need_number(std::string_view field, const Limits& limits);
    std::optional<int> whole(std::string_view field, int least, int most);
    std::optional<int> need_whole(std::string_view field, int least, int most);
    std::optional<bool> truth(std::string_view field);
    std::optional<std::string> text(std::string_view field);
    std::optional<std::string> need_text(std::string_view field);
    std::optional<Vec3> three(std::string_view field, const Limits& limits);
    std::optional<Vec3> need_three(std::string_view field, const Limits& limits);
    std::optional<std::vector<double>> numbers(std::string_view field, const Limits& limits);
    std::optional<std::string> word(std::string_view field, const std::vector<std::string>& words);
    std::optional<std::string> need_word(std::string_view field, const std::vector<std::string>& words);

    // The elements of a list, with their places; empty when absent.
    std::vector<std::pair<const Json*, std::string>> list(std::string_view field, std::size_t most);

    // Call when everything was asked for: what is left is unknown.
    void finish() const;

  private:
    const Json& value_;
    std::string place_;
    std::string what_;
    Faults& faults_;
    std::vector<std::string> asked_;
};

// "a, b or c"
std::string either(const std::vector<std::string>& words);
// What is allowed in place of a word that is not known, the nearest first: `"bark", which is nearest, or ...`.
std::string suggestion(const std::string& word, const std::vector<std::string>& known);

}  // namespace dapple::scene
