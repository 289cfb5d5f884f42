// The clear sky's weighted ultraviolet on a horizontal surface, tabulated over zenith angle and ozone, so that a year of
// minutes costs no more than a few thousand spectra. Logarithms are interpolated, linearly in the zenith angle and in the
// logarithm of ozone: within 0.5 % of the spectra to 85 degrees.
#pragma once

#include <vector>

#include "sky/clear_sky.h"

namespace dapple::sky {

struct Uv {
    double uvi = 0;
    double d3_w_m2 = 0;  // previtamin D3
    double erythemal_w_m2() const { return uvi / 40; }
};

class UvTable {
  public:
    // Conditions but for ozone and the sun's distance, and the ozone columns (DU, ascending, at least one).
    UvTable(Conditions conditions, std::vector<double> ozone_du);

    // At 1 au; zero at and below the horizon. Ozone is kept inside the table.
    Uv at(double ozone_du, double zenith_deg) const;

  private:
    std::vector<double> log_ozone_;
    std::vector<double> zenith_;
    std::vector<std::vector<Uv>> logs_;  // [ozone][zenith], natural logarithms
};

}  // namespace dapple::sky
