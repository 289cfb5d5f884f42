#include "sky/sun_position.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <vector>

#include "spectrum/table.h"

namespace dapple::sky {

namespace {

using std::numbers::pi;
constexpr double rad = pi / 180;
constexpr double unix_epoch = 2440587.5;  // Julian day
constexpr double j2000 = 2451545;

double julian_day(Instant time) {
    return unix_epoch + static_cast<double>(time.time_since_epoch().count()) / 86400.0;
}

double decimal_year(Instant time) {
    // Good to a day, which is more than delta T can tell apart.
    return 1970 + (julian_day(time) - unix_epoch) / 365.2425;
}

double polynomial(double t, std::initializer_list<double> coefficients) {
    double sum = 0, power = 1;
    for (const double c : coefficients) {
        sum += c * power;
        power *= t;
    }
    return sum;
}

struct EarthTerm {
    double a, b, c;
};

// The series of table A4.2: terms[series][power of the millennia].
struct EarthTerms {
    std::array<std::array<std::vector<EarthTerm>, 6>, 3> terms;

    EarthTerms() {
        const auto table = spectrum::shipped_table("sky/earth_terms.csv");
        const auto& series = table.column("series");
        for (std::size_t i = 0; i < series.size(); ++i) {
            terms[static_cast<std::size_t>(series[i])][static_cast<std::size_t>(table.column("power")[i])]
                .push_back({table.column("a")[i], table.column("b")[i], table.column("c")[i]});
        }
    }

    // Radians for the longitude and the latitude, au for the distance (eq. 9-12).
    double sum(std::size_t series, double millennia) const {
        double total = 0, power = 1;
        for (const auto& group : terms[series]) {
            double part = 0;
            for (const EarthTerm& t : group) part += t.a * std::cos(t.b + t.c * millennia);
            total += part * power;
            power *= millennia;
        }
        return total / 1e8;
    }
};

struct Nutation {
    double longitude, obliquity;  // rad
};

struct NutationTerm {
    std::array<double, 5> multiple;
    double a, b, c, d;
};

std::vector<NutationTerm> read_nutation() {
    const auto table = spectrum::shipped_table("sky/nutation_terms.csv");
    std::vector<NutationTerm> terms(table.column("a").size());
    for (std::size_t i = 0; i < terms.size(); ++i) {
        for (std::size_t k = 0; k < 5; ++k) terms[i].multiple[k] = table.column("y" + std::to_string(k))[i];
        terms[i].a = table.column("a")[i];
        terms[i].b = table.column("b")[i];
        terms[i].c = table.column("c")[i];
        terms[i].d = table.column("d")[i];
    }
    return terms;
}

// Eq. 15-23.
Nutation nutation(double centuries) {
    static const std::vector<NutationTerm> terms = read_nutation();
    const double t = centuries;
    const std::array argument = {polynomial(t, {297.85036, 445267.111480, -0.0019142, 1 / 189474.0}),
                                 polynomial(t, {357.52772, 35999.050340, -0.0001603, -1 / 300000.0}),
                                 polynomial(t, {134.96298, 477198.867398, 0.0086972, 1 / 56250.0}),
                                 polynomial(t, {93.27191, 483202.017538, -0.0036825, 1 / 327270.0}),
                                 polynomial(t, {125.04452, -1934.136261, 0.0020708, 1 / 450000.0})};
    double longitude = 0, obliquity = 0;
    for (const NutationTerm& term : terms) {
        double angle = 0;
        for (std::size_t k = 0; k < argument.size(); ++k) angle += argument[k] * term.multiple[k];
        longitude += (term.a + term.b * t) * std::sin(angle * rad);
        obliquity += (term.c + term.d * t) * std::cos(angle * rad);
    }
    constexpr double unit = rad / 36000000;
    return {longitude * unit, obliquity * unit};
}

// Mean obliquity of the ecliptic, rad (eq. 24).
double mean_obliquity(double millennia) {
    return polynomial(millennia / 10, {84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12,
                                       27.87, 5.79, 2.45}) /
           3600 * rad;
}

// Mean sidereal time at Greenwich, rad (eq. 28).
double mean_sidereal(double day) {
    const double t = (day - j2000) / 36525;
    return std::fmod(280.46061837 + 360.98564736629 * (day - j2000) + t * t * (0.000387933 - t / 38710000),
                     360) *
           rad;
}

// The sun among the stars, seen from the middle of the earth.
struct Geocentric {
    double right_ascension, declination;  // rad
    double distance;                      // au
    double sidereal;                      // apparent sidereal time at Greenwich, rad
};

Geocentric geocentric(Instant time) {
    static const EarthTerms earth;
    const double day = julian_day(time);
    const double centuries = (day + delta_t_s(time) / 86400 - j2000) / 36525, millennia = centuries / 10;
    const double distance = earth.sum(2, millennia);
    const Nutation shift = nutation(centuries);
    const double tilt = mean_obliquity(millennia) + shift.obliquity;
    const double aberration = 20.4898 / 3600 * rad / distance;
    const double longitude = earth.sum(0, millennia) + pi + shift.longitude - aberration;
    const double latitude = -earth.sum(1, millennia);
    Geocentric sun{};
    sun.right_ascension = std::atan2(
        std::sin(longitude) * std::cos(tilt) - std::tan(latitude) * std::sin(tilt), std::cos(longitude));
    sun.declination = std::asin(std::sin(latitude) * std::cos(tilt) +
                                std::cos(latitude) * std::sin(tilt) * std::sin(longitude));
    sun.distance = distance;
    sun.sidereal = mean_sidereal(day) + shift.longitude * std::cos(tilt);
    return sun;
}

// From a place on the ground (eq. 32-45).
SunPosition topocentric(const Geocentric& sun, const Site& site) {
    const double phi = site.lat_deg * rad;
    const double hour = sun.sidereal + site.lon_deg * rad - sun.right_ascension;
    const double parallax = 8.794 / 3600 * rad / sun.distance;
    const double u = std::atan(0.99664719 * std::tan(phi));
    const double height = site.elevation_m / 6378140;
    const double x = std::cos(u) + height * std::cos(phi);
    const double y = 0.99664719 * std::sin(u) + height * std::sin(phi);
    const double east = std::cos(sun.declination) - x * std::sin(parallax) * std::cos(hour);
    const double shift = std::atan2(-x * std::sin(parallax) * std::sin(hour), east);
    const double delta =
        std::atan2((std::sin(sun.declination) - y * std::sin(parallax)) * std::cos(shift), east);
    const double h = hour - shift;
    const double sine = std::sin(phi) * std::sin(delta) + std::cos(phi) * std::cos(delta) * std::cos(h);
    const double azimuth =
        std::atan2(std::sin(h), std::cos(h) * std::sin(phi) - std::tan(delta) * std::cos(phi));
    return {std::asin(std::clamp(sine, -1.0, 1.0)) / rad, std::fmod(azimuth / rad + 540, 360), sun.distance};
}

}  // namespace

double delta_t_s(Instant time) {
    const double year = decimal_year(time);
    if (year >= 1920 && year < 1941) {
        return polynomial(year - 1920, {21.20, 0.84493, -0.076100, 0.0020936});
    }
    if (year >= 1941 && year < 1961) return polynomial(year - 1950, {29.07, 0.407, -1 / 233.0, 1 / 2547.0});
    if (year >= 1961 && year < 1986) return polynomial(year - 1975, {45.45, 1.067, -1 / 260.0, -1 / 718.0});
    if (year >= 1986 && year < 2005) {
        return polynomial(year - 2000, {63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599});
    }
    if (year >= 2005 && year < 2050) return polynomial(year - 2000, {62.92, 0.32217, 0.005589});
    const double century = (year - 1820) / 100;
    const double long_term = -20 + 32 * century * century;
    return year >= 2050 && year < 2150 ? long_term - 0.5628 * (2150 - year) : long_term;
}

SunPosition sun_position(Instant time, const Site& site) {
    return topocentric(geocentric(time), site);
}

double refraction_deg(double elevation_deg, double pressure_hpa, double temperature_c) {
    constexpr double rim = -0.26667 - 0.5667;
    if (elevation_deg < rim) return 0;
    const double bend = elevation_deg + 10.3 / (elevation_deg + 5.11);
    return pressure_hpa / 1010 * 283 / (273 + temperature_c) * 1.02 / (60 * std::tan(bend * rad));
}

double standard_pressure_hpa(double elevation_m) {
    return 1013.25 * std::pow(1 - 2.25577e-5 * std::min(elevation_m, 11000.0), 5.25588);
}

double apparent_elevation_deg(double elevation_deg, const Site& site) {
    const double temperature_c = 15 - 0.0065 * site.elevation_m;
    return elevation_deg +
           refraction_deg(elevation_deg, standard_pressure_hpa(site.elevation_m), temperature_c);
}

}  // namespace dapple::sky
