// What cloud leaves of a clear sky's light, by the share of the sky that it covers (0-1).
#pragma once

#include "sky/clear_sky.h"

namespace dapple::sky {

// Of the UV index: the classes of the US EPA and National Weather Service ("Calculating the UV Index": clear 1, scattered 0.89,
// broken 0.73, overcast 0.31), at the middles of their cover, straight between them. Broken cloud beside a free sun can for
// minutes bring up to a fifth more than a clear sky (Calbo, Pages & Gonzalez 2005, Rev. Geophys. 43): no mean tells.
double cloud_factor_uv(double cover);

// Of all light: 1 - 0.75 cover^3.4 (Kasten & Czeplak 1980, Solar Energy 24:177-189).
double cloud_factor_light(double cover);

// The mean light under cloud: the sun is free for the share of time that the sky is, what else the factors leave is diffuse.
Daylight under_cloud(const Daylight& clear, double cover);

}  // namespace dapple::sky
