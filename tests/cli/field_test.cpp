// The files that `dapple field` writes can be opened, and hold what `dapple at` says.
#include <gtest/gtest.h>

#include <cstdlib>
#include <cstring>

#include "cli/columns.h"
#include "cli/console.h"
#include "cli/lattice.h"

namespace dapple::tests {

namespace {

std::vector<std::vector<double>> rows_of(const std::string& csv) {
    std::vector<std::vector<double>> rows;
    std::istringstream lines(csv);
    std::string line;
    std::getline(lines, line);  // header
    while (std::getline(lines, line)) {
        std::istringstream cells(line);
        rows.emplace_back();
        for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(std::stod(cell));
    }
    return rows;
}

std::uint32_t big_endian(const std::string& bytes, std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes.at(at + i));
    return value;
}

cli::FieldOnLattice two_by_one() {
    return {{0.1, {2, 1, 1}, 0}, light::Facing::up(), {{spectrum::Quantity::uvi, {1.0, 2.0}}}};
}

}  // namespace

TEST(FieldCsv, holds_the_whole_lattice_and_agrees_with_at) {
    const Folder folder;
    const Outcome outcome = dapple({"field", "-", "--step-cm", "10", "--facing", "up", "--quantity", "uvi",
                                    "--quantity", "lux", "--out", folder.file("f.csv")},
                                   small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const std::string csv = folder.read("f.csv");
    EXPECT_EQ(csv.substr(0, csv.find('\n')), "x_cm,y_cm,z_cm,uvi,lux");
    const auto rows = rows_of(csv);
    ASSERT_EQ(rows.size(), 7U * 5U * 6U);
    EXPECT_EQ(rows.front()[0], 0);
    EXPECT_EQ(rows.back()[2], 50);
    int compared = 0;
    for (const auto& row : rows) {
        if (row[0] != 30 || row[1] != 20 || row[2] < 11 || row[2] > 39)
            continue;  // above the stone, below the tube
        const auto read = dapple({"at", "-", "--facing", "up", "--json", "--point",
                                  "30,20," + std::to_string(static_cast<int>(row[2]))},
                                 small_pen);
        const double exact = read.json().at("points")[0].at("uvi").get<double>();
        // The grid's evaluation is the fast one: engine.md measured 0.22 % RMS and reflected light by interpolation.
        EXPECT_NEAR(row[3], exact, 0.02 * exact);
        ++compared;
    }
    EXPECT_EQ(compared, 2);  // 20 and 30 cm
}

TEST(FieldVti, is_well_formed_xml_of_vtk_image_data) {
    const Folder folder;
    const Outcome outcome = dapple({"field", "-", "--step-cm", "10", "--quantity", "uvi", "--quantity", "lux",
                                    "--out", folder.file("f.vti")},
                                   small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const std::string vti = folder.read("f.vti");
    EXPECT_NE(vti.find("<ImageData WholeExtent=\"0 6 0 4 0 5\" Origin=\"0 0 0\" Spacing=\"10 10 10\">"),
              std::string::npos);
    EXPECT_NE(vti.find("Name=\"uvi\""), std::string::npos);
    EXPECT_NE(vti.find("Name=\"lux\""), std::string::npos);
    EXPECT_EQ(std::system(("xmllint --noout '" + folder.file("f.vti") + "'").c_str()), 0);
}

TEST(FieldVti, carries_numbers_as_base64_of_their_length_and_32_bit_values) {
    // 8 bytes of length (8), then 1.0f = 00 00 80 3f and 2.0f = 00 00 00 40, encoded by hand after RFC 4648.
    EXPECT_NE(cli::to_vti(two_by_one()).find(">CAAAAAAAAAAAAIA/AAAAQA==<"), std::string::npos)
        << cli::to_vti(two_by_one());
}

TEST(FieldCsvText, writes_a_row_a_place) {
    EXPECT_EQ(cli::to_csv(two_by_one()), "x_cm,y_cm,z_cm,uvi\n0,0,0,1\n10,0,0,2\n");
}

TEST(FieldPng, is_a_png_of_a_sensible_size) {
    const Folder folder;
    const Outcome outcome =
        dapple({"field", "-", "--step-cm", "2", "--out", folder.file("f.png")}, small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    const std::string png = folder.read("f.png");
    ASSERT_GT(png.size(), 2000U);
    EXPECT_EQ(png.substr(0, 8), "\x89PNG\r\n\x1a\n");
    EXPECT_GT(big_endian(png, 16), big_endian(png, 20));  // the box is wider than deep
    EXPECT_GT(big_endian(png, 20), 500U);
}

TEST(FieldPng, shows_one_quantity) {
    const Outcome outcome =
        dapple({"field", "-", "--step-cm", "2", "--out", "f.png", "--quantity", "uvi", "--quantity", "lux"},
               small_pen);
    EXPECT_EQ(outcome.status, 2);
    EXPECT_NE(outcome.err.find("one for a .png"), std::string::npos) << outcome.err;
}

TEST(FieldLayer, lies_at_the_height_asked_for) {
    const Folder folder;
    const Outcome outcome = dapple(
        {"field", "-", "--step-cm", "20", "--height-cm", "12.5", "--json", "--out", folder.file("f.csv")},
        small_pen);
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(outcome.json().at("points"), 4 * 3);
    for (const auto& row : rows_of(folder.read("f.csv"))) EXPECT_EQ(row[2], 12.5);
}

TEST(Columns, set_numbers_flush_right_and_count_letters_not_bytes) {
    cli::Columns table({"name", "n"}, {1});
    table.add({"\xc3\xa9t\xc3\xa9", "5"});
    table.add({"summer", "12"});
    EXPECT_EQ(table.text(), "name     n\n\xc3\xa9t\xc3\xa9      5\nsummer  12\n");
}

TEST(Columns, plain_numbers_have_three_digits_and_no_exponent) {
    EXPECT_EQ(cli::plain_number(3.14159), "3.14");
    EXPECT_EQ(cli::plain_number(21034), "21034");
    EXPECT_EQ(cli::plain_number(0.0041234), "0.00412");
    EXPECT_EQ(cli::plain_number(0), "0");
}

}  // namespace dapple::tests
