#include "sky/ozone.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "spectrum/table.h"

namespace dapple::sky {

namespace {

constexpr int bands = 17;  // -80 to 80 degrees
constexpr int months = 12;

std::array<std::array<double, bands>, months> read_climatology() {
    std::array<std::array<double, bands>, months> du{};
    const auto table = spectrum::shipped_table("sky/ozone_climatology.csv");
    const auto& month = table.column("month");
    for (std::size_t i = 0; i < month.size(); ++i) {
        const auto band = static_cast<std::size_t>(std::lround((table.column("latitude_deg")[i] + 80) / 10));
        du[static_cast<std::size_t>(month[i]) - 1][band] = table.column("ozone_du")[i];
    }
    return du;
}

}  // namespace

double climatological_ozone_du(double lat_deg, double day_of_year) {
    static const auto du = read_climatology();
    const double row = std::clamp((lat_deg + 80) / 10, 0.0, bands - 1.0);
    const auto south = std::min(static_cast<std::size_t>(row), static_cast<std::size_t>(bands - 2));
    const double north_share = row - static_cast<double>(south);
    const double month = day_of_year / 365.25 * months - 0.5 + months;  // 12: the middle of January
    const auto before = static_cast<std::size_t>(month);
    const double later_share = month - static_cast<double>(before);
    const auto at = [&](std::size_t m) {
        const auto& column = du[m % months];
        return column[south] + north_share * (column[south + 1] - column[south]);
    };
    return at(before) + later_share * (at(before + 1) - at(before));
}

}  // namespace dapple::sky
