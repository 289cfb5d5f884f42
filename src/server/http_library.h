// cpp-httplib, after Eigen: it brings resolv.h, whose macro _res is a name in Eigen's headers.
#pragma once

#include <Eigen/Core>

// clang-format off
#include <httplib.h>
// clang-format on
