// Where the sun stands.
//
// After Reda & Andreas 2004, "Solar position algorithm for solar radiation applications", Solar Energy 76:577-589
// (NREL/TP-560-34302; equation numbers in the source are its): the earth's place by the leading terms of VSOP87, aberration,
// nutation of IAU 1980, delta T, topocentric parallax. Good to 0.0003 deg in the years -2000 to 6000; UT1 is taken equal to
// UTC, which can move the sun by up to 0.004 deg.
//
// Azimuth from north through east. Elevation is that of the middle of the disc without refraction; `apparent` adds it.
#pragma once

#include <chrono>

namespace dapple::sky {

using Instant = std::chrono::sys_seconds;  // UTC

struct Site {
    double lat_deg;          // north, -90..90
    double lon_deg;          // east, -180..180
    double elevation_m = 0;  // above the sea
};

struct SunPosition {
    double elevation_deg;  // true
    double azimuth_deg;    // 0..360
    double distance_au;
};

// Terrestrial time minus universal time, s: polynomials of Espenak & Meeus 2006 (NASA/TP-2006-214141), 1920-2150, and their
// long-term parabola outside.
double delta_t_s(Instant time);

SunPosition sun_position(Instant time, const Site& site);

// How much higher the sun appears, degrees, for a true elevation: Reda & Andreas 2004 eq. 42 (Bennett 1982). Zero once the
// upper rim is below the horizon.
double refraction_deg(double elevation_deg, double pressure_hpa, double temperature_c);

// Pressure of the US Standard Atmosphere 1976 at that height, hPa.
double standard_pressure_hpa(double elevation_m);

// Elevation as seen, in a standard atmosphere at the site's height and its temperature there.
double apparent_elevation_deg(double elevation_deg, const Site& site);

}  // namespace dapple::sky
