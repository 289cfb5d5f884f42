// Total ozone to expect at a latitude in a season: zonal monthly means of Fortuin & Kelder 1998 (J. Geophys. Res. 103:31709),
// linear between the middles of months and of 10-degree bands. A single day's column differs by 5-15 %, and UVI with it.
#pragma once

namespace dapple::sky {

// DU. `day_of_year` from 0 (the beginning of 1 January) to 366.
double climatological_ozone_du(double lat_deg, double day_of_year);

}  // namespace dapple::sky
