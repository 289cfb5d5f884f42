#include "cli/readings_input.h"

#include <cerrno>
#include <cstring>
#include <ctime>
#include <fstream>
#include <iterator>

namespace dapple::cli {

namespace {

// The calendar date here and now.
std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[16];
    return {text, std::strftime(text, sizeof text, "%Y-%m-%d", &local)};
}

}  // namespace

Expected<std::vector<inference::Reading>> read_readings(const std::string& path,
                                                        const scene::Enclosure& enclosure,
                                                        std::ostream& err) {
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    const std::string text(std::istreambuf_iterator<char>(file), {});
    if (!file.is_open() || file.bad()) {
        return refuse({path, "", errno == 0 ? "it cannot be read" : std::strerror(errno),
                       "a file of readings, CSV or JSON"});
    }
    const auto readings = inference::parse_readings(text, enclosure, {path, today()});
    if (!readings) return tl::unexpected(readings.error());
    err << to_text(readings->left_out);
    return readings->sets;
}

Expected<inference::Fit> fit_to(const std::string& path, const scene::Enclosure& enclosure,
                                std::ostream& err) {
    const auto readings = read_readings(path, enclosure, err);
    if (!readings) return tl::unexpected(readings.error());
    return inference::fit(enclosure, *readings);
}

}  // namespace dapple::cli
