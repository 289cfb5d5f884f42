#include "husbandry/names.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace dapple::husbandry {
namespace {

using Words = std::vector<std::string>;

TEST(names, capitals_diacritics_and_punctuation_do_not_matter) {
    EXPECT_EQ(words_of("Günther's  Mädchen-Echse"), (Words{"gunthers", "madchen", "echse"}));
    EXPECT_EQ(words_of("Guentheri\xE2\x80\x99s"), (Words{"guentheris"}));  // a typographic apostrophe
    EXPECT_EQ(words_of("a\xCC\x88"
                       "b"),
              (Words{"ab"}));  // a combining diaeresis
    EXPECT_EQ(words_of("Łódź ŠŽ"), (Words{"lodz", "sz"}));
    EXPECT_EQ(words_of("pogona_vitticeps"), (Words{"pogona", "vitticeps"}));
    EXPECT_TRUE(words_of(" -- ").empty());
}

TEST(names, words_of_other_scripts_stay_words) {
    EXPECT_EQ(words_of("черепаха X"), (Words{"черепаха", "x"}));
}

TEST(names, slips_are_letters_dropped_added_exchanged_or_swapped) {
    EXPECT_EQ(slips_between("gecko", "gecko"), 0u);
    EXPECT_EQ(slips_between("geko", "gecko"), 1u);
    EXPECT_EQ(slips_between("geckoo", "gecko"), 1u);
    EXPECT_EQ(slips_between("gekko", "gecko"), 1u);
    EXPECT_EQ(slips_between("gceko", "gecko"), 1u);
    EXPECT_EQ(slips_between("", "abc"), 3u);
}

RC_GTEST_PROP(names, slips_are_the_same_both_ways, (const std::string& a, const std::string& b)) {
    RC_ASSERT(slips_between(a, b) == slips_between(b, a));
}

RC_GTEST_PROP(names, any_bytes_whatever_become_words_without_blanks, (const std::string& bytes)) {
    for (const std::string& word : words_of(bytes))
        RC_ASSERT(!word.empty() && word.find(' ') == std::string::npos);
}

}  // namespace
}  // namespace dapple::husbandry
