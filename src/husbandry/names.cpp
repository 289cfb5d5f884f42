#include "husbandry/names.h"

#include <algorithm>
#include <array>

namespace dapple::husbandry {

namespace {

// ASCII of U+00C0..U+017F (Latin-1 Supplement letters and Latin Extended-A), from the letters' Unicode
// decompositions; ligatures keep their first letter. '*' is no letter.
constexpr std::string_view latin =
    "aaaaaaaceeeeiiiidnooooo*ouuuuytsaaaaaaaceeeeiiiidnooooo*ouuuuyty"
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkklllllll"
    "lllnnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
static_assert(latin.size() == 0x180 - 0xC0);

// Reads one code point of UTF-8 and moves past it; a broken sequence counts as one byte.
char32_t next_code_point(std::string_view text, std::size_t& at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(at++);
    const std::size_t more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
    if (more == 0) return lead;
    char32_t point = lead & (0x3Fu >> more);
    for (std::size_t i = 0; i < more; ++i, ++at) {
        if (at >= text.size() || (byte(at) & 0xC0u) != 0x80u) return lead;
        point = (point << 6u) | (byte(at) & 0x3Fu);
    }
    return point;
}

bool is_combining_mark(char32_t point) {
    return point >= 0x300 && point <= 0x36F;
}
bool is_apostrophe(char32_t point) {
    return point == '\'' || point == '`' || point == 0xB4 || point == 0x2018 || point == 0x2019 ||
           point == 0x2BC;
}

}  // namespace

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words(1);
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t start = at;
        const char32_t point = next_code_point(text, at);
        if (is_combining_mark(point) || is_apostrophe(point)) continue;
        char letter = '*';
        if (point < 0x80) {
            const char c = static_cast<char>(point);
            if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) letter = c;
            if (c >= 'A' && c <= 'Z') letter = static_cast<char>(c - 'A' + 'a');
        } else if (point >= 0xC0 && point < 0x180) {
            letter = latin[point - 0xC0];
        } else if (point >= 0x370 && point < 0x2000) {  // another script
            words.back().append(text.substr(start, at - start));
            continue;
        }
        if (letter != '*') {
            words.back() += letter;
        } else if (!words.back().empty()) {
            words.emplace_back();
        }
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
    std::string text;
    for (const std::string& word : words) {
        if (!text.empty()) text += between;
        text += word;
    }
    return text;
}

std::size_t slips_between(std::string_view a, std::string_view b) {
    const std::size_t width = b.size() + 1;
    std::vector<std::size_t> before_last(width);
    std::vector<std::size_t> last(width);
    std::vector<std::size_t> row(width);
    for (std::size_t j = 0; j < width; ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t exchanged = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, exchanged});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                row[j] = std::min(row[j], before_last[j - 2] + 1);
            }
        }
        std::swap(before_last, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

std::size_t forgivable_slips(std::size_t letters) {
    if (letters < 4) return 0;
    if (letters < 8) return 1;
    return letters < 12 ? 2 : 3;
}

}  // namespace dapple::husbandry
