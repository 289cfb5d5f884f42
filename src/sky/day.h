// A day under the open sky: the sun's course, the UV index on a horizontal surface, and the hours in which it lies in a
// band. Model: sky/clear_sky.h with climatological ozone unless told otherwise, thinned by cloud; a forecast replaces it
// where it speaks.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "sky/clock.h"
#include "sky/forecast.h"
#include "sky/sun_position.h"
#include "sky/uv_table.h"

namespace dapple::sky {

struct Weather {
    std::optional<double> ozone_du;  // column; else the climatology's
    double albedo = 0.05;
    double cloud = 0;  // share of the sky covered
    Aerosol aerosol = {};
};

// The UV of a place at any time, quickly.
class OpenSky {
  public:
    OpenSky(const Site& site, const Weather& weather, std::optional<Forecast> forecast = std::nullopt);

    const Site& site() const { return site_; }
    const Weather& weather() const { return weather_; }

    double ozone_du(Instant time) const;
    SunPosition sun(Instant time) const { return sun_position(time, site_); }
    double zenith_as_seen_deg(const SunPosition& sun) const;
    Uv uv(Instant time) const;                          // horizontal
    Uv uv(Instant time, const SunPosition& sun) const;  // the same where the sun is known already

    // What the spectral sky needs for that moment (no cloud in it), and by how much a forecast changes it.
    Conditions conditions(Instant time, const SunPosition& sun) const;
    double forecast_factor(Instant time, const SunPosition& sun) const;

  private:
    Uv modelled(Instant time, const SunPosition& sun) const;

    Site site_;
    Weather weather_;
    std::optional<Forecast> forecast_;
    UvTable table_;
};

struct Moment {
    Instant time;
    double elevation_deg;  // as seen
    double azimuth_deg;
    Uv uv;
};

struct Window {
    Instant from, to;
};

struct Dose {  // J/m2, horizontal
    double erythemal = 0;
    double d3 = 0;
};

// From `begin` to `end`, both with a moment of their own.
std::vector<Moment> curve(const OpenSky& sky, Instant begin, Instant end, std::chrono::seconds step);

// The highest moment of a curve, refined to a minute.
Moment highest(const OpenSky& sky, const std::vector<Moment>& curve);

// When low <= value <= high while the sun is up (`value` gives nothing when it is down): looked for at every step, each
// beginning and end found to a second.
std::vector<Window> windows(const std::function<std::optional<double>(Instant)>& value, double low,
                            double high, Instant begin, Instant end, std::chrono::seconds step);

// What reaches a flat back under the open sky within the windows.
Dose dose(const OpenSky& sky, const std::vector<Window>& windows);

}  // namespace dapple::sky
