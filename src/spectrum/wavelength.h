// The engine's wavelength axis and the spectra that live on it.
//
// Every spectrum is sampled each nanometre from 200 to 2500 nm: the ultraviolet and visible decide every
// weighted quantity, the near infrared is carried for warmth. Sample i belongs to wavelength first_nm + i; a
// spectral density is per nanometre.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace dapple::spectrum {

inline constexpr int first_nm = 200;
inline constexpr int last_nm = 2500;
inline constexpr int samples = last_nm - first_nm + 1;

using Spectrum = Eigen::ArrayXd;  // always of size `samples`

inline Spectrum constant(double value) {
    return Spectrum::Constant(samples, value);
}

// What a table says outside its own range.
enum class Outside { zero, nearest };

// A table (nanometres ascending) brought onto the axis, linearly between its rows. Where its rows stand
// closer than the axis's samples, the mean over the sample's nanometre (half to half): narrow lines keep
// their power.
Spectrum resample(const std::vector<double>& nm, const std::vector<double>& values, Outside outside);

// The same in the logarithm of the values, as IEC 62471:2006 asks for its hazard weights. Values positive.
Spectrum resample_log(const std::vector<double>& nm, const std::vector<double>& values, Outside outside);

// Trapezoidal integral over the axis of density x weight (both per sample), between whole nanometres.
double integral(const Spectrum& density, int from_nm = first_nm, int to_nm = last_nm);

}  // namespace dapple::spectrum
