#include "problem/problem.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace dapple {

namespace {

std::size_t edit_distance(const std::string& a, const std::string& b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            const std::size_t swapped = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({above + 1, row[j - 1] + 1, swapped});
            diagonal = above;
        }
    }
    return row[b.size()];
}

}  // namespace

std::string Problem::message() const {
    std::string text = file;
    if (!place.empty()) text += text.empty() ? "at " + place : " at " + place;
    if (!text.empty()) text += ": ";
    text += "found " + found;
    if (!allowed.empty()) text += "; allowed: " + allowed;
    return text;
}

std::string to_text(const Problems& problems) {
    std::string text;
    for (const Problem& problem : problems) text += problem.message() + "\n";
    return text;
}

std::string nearest(const std::string& word, const std::vector<std::string>& candidates) {
    std::string best;
    std::size_t best_distance = std::max<std::size_t>(1, word.size() / 3) + 1;
    for (const std::string& candidate : candidates) {
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

}  // namespace dapple
