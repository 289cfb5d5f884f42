#include "cli/input.h"

#include <fmt/format.h>

#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstring>
#include <fstream>
#include <istream>
#include <iterator>
#include <optional>
#include <sstream>

#include "scene/document.h"

namespace dapple::cli {

using scene::Enclosure;
using scene::Vec3;

namespace {

std::string quoted(const std::string& text) {
    return "\"" + text + "\"";
}

std::optional<double> number_in(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::vector<std::string> split(const std::string& text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == ',') {
            parts.emplace_back();
        } else {
            parts.back() += c;
        }
    }
    return parts;
}

std::optional<std::string> read_whole(const std::string& name) {
    std::ifstream file(name, std::ios::binary);
    if (!file) return std::nullopt;
    return std::string(std::istreambuf_iterator<char>(file), {});
}

}  // namespace

Expected<double> read_number(const std::string& text, const std::string& option, const std::string& allowed) {
    const auto value = number_in(text);
    if (!value) return refuse({"", option, quoted(text), allowed});
    return *value;
}

Expected<Vec3> read_point(const std::string& text, const Enclosure& enclosure) {
    const Vec3 size = 100 * enclosure.size;
    const auto refused = [&] {
        return refuse({"", "--point", quoted(text),
                       fmt::format("x,y,z in cm inside the box: x 0 to {:g}, y 0 to {:g}, z 0 to {:g}",
                                   size.x(), size.y(), size.z())});
    };
    const std::vector<std::string> parts = split(text);
    if (parts.size() != 3) return refused();
    Vec3 point;
    for (int axis = 0; axis < 3; ++axis) {
        const auto value = number_in(parts[static_cast<std::size_t>(axis)]);
        if (!value || *value < 0 || *value > size[axis] * (1 + 1e-12)) return refused();
        point[axis] = *value / 100;
    }
    return point;
}

Expected<Enclosure> read_enclosure(const std::string& path, std::istream& in) {
    if (path.empty())
        return refuse({"", "ENC", "nothing", "the file of an enclosure, or - for standard input"});
    if (path != "-") return scene::load_enclosure(path);
    const std::string text(std::istreambuf_iterator<char>(in), {});
    return scene::parse_enclosure(text, {"standard input", read_whole});
}

Expected<std::string> read_file(const std::string& path, const std::string& allowed) {
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(file), {});
    if (!file.is_open() || file.bad()) {
        return refuse({path, "", errno == 0 ? "it cannot be read" : std::strerror(errno), allowed});
    }
    return text;
}

Expected<advice::Effort> read_effort(const std::string& path) {
    const auto text = read_file(path, "a JSON file of minutes");
    if (!text) return tl::unexpected(text.error());
    return advice::parse_effort(*text, path);
}

Expected<void> write_file(const std::string& path, const std::string& bytes) {
    errno = 0;
    std::ofstream file(path, std::ios::binary);
    file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    file.close();
    if (!file) {
        const std::string reason = errno == 0 ? "it cannot be written" : std::strerror(errno);
        return refuse({path, "", reason, "a file in a folder that is there and may be written"});
    }
    return {};
}

}  // namespace dapple::cli
