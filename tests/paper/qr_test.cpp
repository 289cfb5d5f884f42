#include "paper/qr.h"

#include <gtest/gtest.h>

#include "paper/outside.h"

namespace dapple::paper {

namespace {

using tests::Folder;
using tests::run;

// Drawn by librsvg, read by ZBar: neither shares anything with the library that made the code.
std::string read_back(const std::string& svg, int pixels) {
    const Folder folder;
    const std::string drawing = folder.file("code.svg", svg);
    const std::string picture = folder.file("code.png");
    const auto drawn =
        run("rsvg-convert -w " + std::to_string(pixels) + " -o '" + picture + "' '" + drawing + "'");
    if (drawn.status != 0) return "rsvg-convert: " + drawn.output;
    std::string text = run("zbarimg --quiet --raw --nodbus -Sdisable -Sqrcode.enable -Sqrcode.binary '" +
                           picture + "' 2>/dev/null")
                           .output;
    if (text.ends_with('\n')) text.pop_back();
    return text;
}

const std::string a_link = "https://reptiles.example.org/survey/01HZX3V5K8Q2W4R6T8Y0ABCDEF?site=north";

}  // namespace

TEST(Qr, a_code_reads_back_as_the_text_it_was_made_of) {
    for (const std::string& text : {std::string("x"), a_link, std::string("https://example.org/läbel/東")})
        EXPECT_EQ(read_back(qr_svg(text), 400), text);
}

TEST(Qr, a_long_text_reads_back) {
    std::string text = "https://example.org/";
    while (text.size() < 600) text += "abcdefghij";
    EXPECT_EQ(read_back(qr_svg(text), 900), text);
}

// Level M recovers about 15 % (ISO/IEC 18004); a blot over 6 % of the middle must not matter.
TEST(Qr, a_blot_does_not_spoil_a_code) {
    std::string svg = qr_svg(a_link);
    const int side = qr_code(a_link)->width;
    const int blot = side / 4;
    const int from = quiet_zone + (side - blot) / 2;
    const std::string rectangle = "<rect x='" + std::to_string(from) + "' y='" + std::to_string(from) +
                                  "' width='" + std::to_string(blot) + "' height='" + std::to_string(blot) +
                                  "' fill='#fff'/>";
    svg.insert(svg.find("</svg>"), rectangle);
    EXPECT_EQ(read_back(svg, 400), a_link);
}

TEST(Qr, the_quiet_zone_is_four_modules_wide) {
    const auto code = qr_code(a_link);
    ASSERT_TRUE(code.has_value());
    EXPECT_EQ(quiet_zone, 4);          // ISO/IEC 18004
    EXPECT_TRUE(code->is_dark(0, 0));  // the corner of a finder pattern
    const std::string side = std::to_string(code->width + 8);
    const std::string svg = qr_svg(a_link);
    EXPECT_NE(svg.find("viewBox=\"0 0 " + side + " " + side + "\""), std::string::npos);
    EXPECT_NE(svg.find("d=\"M4 4h7v1h-7z"), std::string::npos);  // the finder pattern is seven modules wide
}

TEST(Qr, what_no_code_holds_is_refused) {
    EXPECT_FALSE(qr_code("").has_value());
    EXPECT_FALSE(qr_code(std::string("a\0b", 3)).has_value());
    EXPECT_TRUE(qr_code(std::string(2331, 'a')).has_value());  // version 40-M in bytes, ISO/IEC 18004 table 7
    EXPECT_FALSE(qr_code(std::string(2332, 'a')).has_value());
    EXPECT_EQ(qr_svg(""), "");
}

}  // namespace dapple::paper
