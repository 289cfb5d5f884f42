#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <limits>

#include "columns.h"
#include "spectrum/lamp_spectrum.h"
#include "spectrum/quantity.h"

namespace dapple::spectrum {

using tests::at;

namespace {

LampSpectrum parsed(std::string_view text) {
    const auto result = parse_spectrum_csv(text, "lamp.csv");
    if (!result) throw std::runtime_error(to_text(result.error()));
    return *result;
}

}  // namespace

TEST(SpectrumCsv, reads_the_same_lamp_however_it_is_written) {
    const auto plain = parsed("300,1\n310,2\n400,0\n");
    // A spreadsheet's byte order mark, a header in Latin-1, cells in quotes.
    const std::string quoted =
        std::string("\xEF\xBB\xBF") + "Wellenl\xE4nge;W\n\"300\";\"1\"\n\"310\";\"2\"\n\"400\";\"0\"\n";
    for (const std::string_view text : std::initializer_list<std::string_view>{
             "# my lamp\nwavelength_nm,relative\n300,1\n310,2\n400,0\n",
             "nm;power\r\n300;1\r\n310;2\r\n400;0\r\n", "300\t1\n310\t2\n400\t0",
             "300,0;1,0\n310,0;2,0\n400,0;0,0\n", "400,0\n310,2\n300,1\n", quoted, "300 1\n310 2\n400 0\n",
             "300,1,\n310,2,\n400,0,\n", "300,+1e0\r310,2E0\r400,0",
             "300,5\n\n310,10\n# half way\n400,0\n"}) {
        EXPECT_TRUE(parsed(text).relative.isApprox(plain.relative)) << text;
    }
    EXPECT_EQ(plain.id, "lamp");
    EXPECT_NE(plain.source.find("lamp.csv"), std::string::npos);
    EXPECT_DOUBLE_EQ(at(plain.relative, 305), 0.75);
    EXPECT_EQ(at(plain.relative, 299), 0);
}

TEST(SpectrumCsv, drops_what_lies_outside_the_axis) {
    const auto wide = parsed("100,4\n300,4\n3000,4\n");
    EXPECT_EQ(at(wide.relative, 200), 1);
    EXPECT_EQ(at(wide.relative, 2500), 1);
}

TEST(SpectrumCsv, keeps_the_power_of_a_finely_sampled_line) {
    // A triangle 0.5 nm high between samples of 0.1 nm, beside a broad pedestal of the same peak.
    std::string text = "399,0\n400,1\n500,1\n501,0\n546.2,0\n546.4,1\n546.6,0\n547,0\n";
    const auto lamp = parsed(text);
    EXPECT_NEAR(integral(lamp.relative, 540, 550) / integral(lamp.relative, 420, 440), 0.2 / 20, 1e-9);
}

TEST(SpectrumCsv, names_file_line_finding_and_remedy_of_every_fault) {
    struct Case {
        std::string_view text, place, found;
    };
    const Case cases[] = {
        {"300,1\n310,abc\n", "line 2", "\"abc\""},
        {"300,1\nabc,2\n320,1", "line 2", "\"abc\""},
        {"300,1\n310,-2\n", "line 2", "\"-2\""},
        {"300,1\n310,nan\n", "line 2", "\"nan\""},
        {"300,1\n310,inf\n", "line 2", "\"inf\""},
        {"300,1\n310,1e999\n", "line 2", "\"1e999\""},
        {"nan,1\n310,1\n", "line 1", "\"nan\""},
        {"-300,1\n310,1\n", "line 1", "\"-300\""},
        {"300,1\n310,2\n310,3\n", "line 3", "\"310\" after 310"},
        {"300,1\n310,2\n305,3\n", "line 3", "\"305\" after 310"},
        {"310,1\n300,2\n305,3\n", "line 3", "\"305\" after 300"},
        {"300,1\n310\n", "line 2", "1 column"},
        {"300,5,0,2\n310,5,0,4\n", "line 1", "4 columns"},
        {"# nothing\nnm,power\n", "", "0 rows"},
        {"300,1\n", "", "1 row"},
        {"", "", "0 rows"},
        {"300,0\n310,0\n", "", "no power at any wavelength"},
        {"0.3,1\n0.4,1\n", "", "no power between 200 and 2500 nm"},
        {"3000,1\n4000,1\n", "", "no power between 200 and 2500 nm"},
    };
    for (const auto& [text, place, found] : cases) {
        const auto result = parse_spectrum_csv(text, "lamp.csv");
        ASSERT_FALSE(result) << text;
        const auto& problem = result.error().front();
        EXPECT_EQ(problem.file, "lamp.csv") << text;
        EXPECT_EQ(problem.place, place) << text;
        EXPECT_NE(problem.found.find(found), std::string::npos) << text << ": " << problem.found;
        EXPECT_FALSE(problem.allowed.empty()) << text;
    }
}

TEST(SpectrumCsv, tells_all_faults_at_once_but_not_without_end) {
    EXPECT_EQ(parse_spectrum_csv("300,x\n310,1\n320,-1\n330,1\n", "f").error().size(), 2U);
    std::string many = "300,1\n";
    for (int i = 0; i < 1000; ++i) many += "301,x\n";
    const auto faults = parse_spectrum_csv(many, "f").error().size();
    EXPECT_GT(faults, 10U);
    EXPECT_LT(faults, 100U);
}

TEST(SpectrumCsv, refuses_more_than_a_million_rows) {
    std::string text;
    for (int i = 0; i <= 1'000'000; ++i) text += std::to_string(200 + i * 0.002) + ",1\n";
    const auto result = parse_spectrum_csv(text, "f");
    ASSERT_FALSE(result);
    EXPECT_NE(result.error().front().found.find("1000000"), std::string::npos);
}

TEST(SpectrumCsv, shows_foreign_bytes_as_plain_text) {
    const auto result = parse_spectrum_csv("300,1\n310,\xFF\x01zz\n", "f");
    ASSERT_FALSE(result);
    for (const char c : result.error().front().message()) EXPECT_TRUE(c >= ' ' && c <= '~');
}

TEST(SpectrumCsv, bears_the_largest_and_smallest_numbers) {
    EXPECT_TRUE(parsed("300,1e308\n310,1e308\n320,1e308\n").relative.isFinite().all());
    EXPECT_TRUE(parsed("300,5e-324\n310,5e-324\n").relative.isFinite().all());
    EXPECT_TRUE(parsed("1e-300,1\n1e300,1\n").relative.isFinite().all());
    EXPECT_TRUE(parsed("300,1\n300.00000000000006,0\n400,1\n").relative.isFinite().all());
}

RC_GTEST_PROP(SpectrumCsv, answers_any_bytes_with_a_lamp_or_with_reasons, (const std::string& bytes)) {
    const auto result = parse_spectrum_csv(bytes, "f");
    const bool answered = result ? result->relative.maxCoeff() > 0 : !result.error().empty();
    RC_ASSERT(answered);
}

RC_GTEST_PROP(SpectrumCsv, answers_any_near_table_with_a_lamp_or_with_reasons, ()) {
    const auto text =
        *rc::gen::container<std::string>(rc::gen::elementOf(std::string("0123456789.,;-+eE\t \n\r#naif\"")));
    const auto result = parse_spectrum_csv(text, "f");
    if (!result) {
        RC_ASSERT(!result.error().empty());
        return;
    }
    RC_ASSERT(result->relative.size() == samples);
    RC_ASSERT(result->relative.isFinite().all());
    RC_ASSERT(result->relative.minCoeff() >= 0);
    RC_ASSERT(result->relative.maxCoeff() > 0);
}

}  // namespace dapple::spectrum
