#include "cli/lattice.h"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <iterator>

namespace dapple::cli {

using scene::Vec3;

namespace {

// How many multiples of the step fit into a length, both ends included; a rounding error does not lose the last.
int count_along(double length, double step) {
    return static_cast<int>(std::floor(length / step + 1e-9)) + 1;
}

std::string base64(const std::string& bytes) {
    static constexpr char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto byte = [&](std::size_t k) {
            return i + k < bytes.size() ? static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i + k]))
                                        : 0U;
        };
        const std::uint32_t three = byte(0) << 16U | byte(1) << 8U | byte(2);
        text += letters[three >> 18U & 63U];
        text += letters[three >> 12U & 63U];
        text += i + 1 < bytes.size() ? letters[three >> 6U & 63U] : '=';
        text += i + 2 < bytes.size() ? letters[three & 63U] : '=';
    }
    return text;
}

// An array of the file: its length in bytes (UInt64), then the numbers, little-endian as every machine we build for.
std::string encoded(const std::vector<double>& values) {
    const std::uint64_t length = values.size() * sizeof(float);
    std::string bytes(sizeof length + length, '\0');
    std::memcpy(bytes.data(), &length, sizeof length);
    char* to = bytes.data() + sizeof length;
    for (const double value : values) {
        const auto single = static_cast<float>(value);
        std::memcpy(to, &single, sizeof single);
        to += sizeof single;
    }
    return base64(bytes);
}

}  // namespace

std::vector<Vec3> Lattice::points() const {
    std::vector<Vec3> all;
    all.reserve(size());
    for (int k = 0; k < counts[2]; ++k) {
        for (int j = 0; j < counts[1]; ++j) {
            for (int i = 0; i < counts[0]; ++i) all.emplace_back(i * step, j * step, lowest + k * step);
        }
    }
    return all;
}

std::size_t Lattice::size() const {
    return static_cast<std::size_t>(counts[0]) * static_cast<std::size_t>(counts[1]) *
           static_cast<std::size_t>(counts[2]);
}

Lattice whole(const scene::Enclosure& enclosure, double step) {
    const Vec3& size = enclosure.size;
    return {step, {count_along(size.x(), step), count_along(size.y(), step), count_along(size.z(), step)}, 0};
}

Lattice layer(const scene::Enclosure& enclosure, double step, double height) {
    Lattice lattice = whole(enclosure, step);
    lattice.counts[2] = 1;
    lattice.lowest = height;
    return lattice;
}

std::string to_vti(const FieldOnLattice& field) {
    const Lattice& lattice = field.lattice;
    const std::string extent =
        fmt::format("0 {} 0 {} 0 {}", lattice.counts[0] - 1, lattice.counts[1] - 1, lattice.counts[2] - 1);
    std::string text =
        "<?xml version=\"1.0\"?>\n<VTKFile type=\"ImageData\" version=\"1.0\" byte_order=\"LittleEndian\" "
        "header_type=\"UInt64\">\n";
    fmt::format_to(std::back_inserter(text),
                   " <ImageData WholeExtent=\"{0}\" Origin=\"0 0 {1:g}\" Spacing=\"{2:g} {2:g} {2:g}\">\n"
                   "  <Piece Extent=\"{0}\">\n   <PointData Scalars=\"{3}\">\n",
                   extent, 100 * lattice.lowest, 100 * lattice.step,
                   spectrum::name(field.lots.front().quantity));
    for (const Lot& lot : field.lots) {
        fmt::format_to(std::back_inserter(text),
                       "    <DataArray type=\"Float32\" Name=\"{}\" format=\"binary\">{}</DataArray>\n",
                       spectrum::name(lot.quantity), encoded(lot.values));
    }
    return text + "   </PointData>\n  </Piece>\n </ImageData>\n</VTKFile>\n";
}

std::string to_csv(const FieldOnLattice& field) {
    std::string text = "x_cm,y_cm,z_cm";
    for (const Lot& lot : field.lots)
        fmt::format_to(std::back_inserter(text), ",{}", spectrum::name(lot.quantity));
    text += '\n';
    const std::vector<Vec3> points = field.lattice.points();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 cm = 100 * points[i];
        fmt::format_to(std::back_inserter(text), "{:.6g},{:.6g},{:.6g}", cm.x(), cm.y(), cm.z());
        for (const Lot& lot : field.lots) fmt::format_to(std::back_inserter(text), ",{:.6g}", lot.values[i]);
        text += '\n';
    }
    return text;
}

}  // namespace dapple::cli
