#include "sky/scattering.h"

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <numbers>

namespace dapple::sky {

namespace {

using std::numbers::pi;

constexpr double rad = pi / 180;
constexpr double earth_radius = 6371000;

// Streams in each hemisphere: Gauss-Legendre on [0, 1].
constexpr int streams = 2;
constexpr int moments = 2 * streams;
using Matrix = Eigen::Matrix<double, streams, streams>;
using Vector = Eigen::Matrix<double, streams, 1>;
// One for each zenith angle. A single one, by far the most asked for, is known to the compiler and needs no memory.
template <int Count>
using Columns = Eigen::Matrix<double, streams, Count>;
template <int Count>
using RowArray = Eigen::Array<double, 1, Count>;
const Vector cosines = {(1 - 1 / std::numbers::sqrt3) / 2, (1 + 1 / std::numbers::sqrt3) / 2};
const Vector weights = {0.5, 0.5};

// Thickness (optical) up to which one diamond step is exact to a few parts in ten thousand.
constexpr double thin = 0.01;

using Legendre = std::array<double, moments>;

Legendre legendre(double x) {
    Legendre p{1, x};
    for (std::size_t l = 2; l < moments; ++l) {
        const auto n = static_cast<double>(l);
        p[l] = ((2 * n - 1) * x * p[l - 1] - (n - 1) * p[l - 2]) / n;
    }
    return p;
}

// A layer after delta-M: thickness, share scattered, and the moments of its phase function.
struct Scaled {
    double depth;
    double albedo;
    std::array<double, moments> moment;
};

Scaled scaled(const LayerOptics& layer) {
    std::array<double, moments + 1> moment{};
    double power = 1;
    for (std::size_t l = 0; l <= moments; ++l) {
        const double air = l == 0 ? 1 : (l == 2 ? 0.1 : 0);
        moment[l] = layer.scattering > 0
                        ? (layer.rayleigh * air + layer.aerosol_scattering * power) / layer.scattering
                        : air;
        power *= layer.asymmetry;
    }
    const double forward = moment[moments];
    const double albedo = layer.depth > 0 ? layer.scattering / layer.depth : 0;
    Scaled out{(1 - albedo * forward) * layer.depth, (1 - forward) * albedo / (1 - albedo * forward), {}};
    for (std::size_t l = 0; l < moments; ++l) out.moment[l] = (moment[l] - forward) / (1 - forward);
    return out;
}

// Between two directions by the polynomials of their cosines.
double phase(const Scaled& layer, const Legendre& p, const Legendre& q) {
    double sum = 0;
    for (std::size_t l = 0; l < moments; ++l)
        sum += (2.0 * static_cast<double>(l) + 1) * layer.moment[l] * p[l] * q[l];
    return sum;
}

// What a layer does: reflects and transmits light from outside, alike from above and below, and scatters the beam up and
// down. The beam has strength one at its top and leaves it with `left`.
template <int Count>
struct Slab {
    Matrix reflects, transmits;
    Columns<Count> up, down;
    RowArray<Count> left;
};

template <int Count>
Slab<Count> slab(const LayerOptics& optics, const RowArray<Count>& beam_cosine,
                 const RowArray<Count>& air_mass) {
    static const std::array down_stream = {legendre(cosines[0]), legendre(cosines[1])};
    static const std::array up_stream = {legendre(-cosines[0]), legendre(-cosines[1])};
    const Scaled layer = scaled(optics);
    const int doublings =
        std::max(0, static_cast<int>(std::ceil(std::log2(std::max(layer.depth / thin, 1.0)))));
    const double depth = layer.depth / std::exp2(doublings);

    Matrix ahead, back;
    for (std::size_t i = 0; i < streams; ++i) {
        for (std::size_t j = 0; j < streams; ++j) {
            ahead(i, j) = layer.albedo / 2 * phase(layer, down_stream[i], down_stream[j]) * weights[j];
            back(i, j) = layer.albedo / 2 * phase(layer, down_stream[i], up_stream[j]) * weights[j];
        }
    }
    Slab<Count> s;
    const RowArray<Count> slant = depth * air_mass;
    s.left = (-slant).exp();
    Columns<Count> beam_up(streams, beam_cosine.size()), beam_down(streams, beam_cosine.size());
    for (Eigen::Index k = 0; k < beam_cosine.size(); ++k) {
        const double mean = slant[k] > 1e-12 ? -std::expm1(-slant[k]) / slant[k] : 1;
        const Legendre beam = legendre(beam_cosine[k]);
        for (std::size_t i = 0; i < streams; ++i) {
            beam_down(i, k) = layer.albedo / (4 * pi) * phase(layer, down_stream[i], beam) * mean;
            beam_up(i, k) = layer.albedo / (4 * pi) * phase(layer, up_stream[i], beam) * mean;
        }
    }
    // Diamond: the transfer equation across the layer with the mean of both faces inside. Sum and difference of what
    // leaves below and above part the two directions.
    const Matrix speed = (cosines / std::max(depth, 1e-12)).asDiagonal();
    const Matrix loss = 0.5 * (Matrix::Identity() - ahead), gain = 0.5 * back;
    const Matrix even = (speed + loss - gain).inverse(), odd = (speed + loss + gain).inverse();
    const Matrix even_out = even * (speed - loss + gain), odd_out = odd * (speed - loss - gain);
    s.transmits = 0.5 * (even_out + odd_out);
    s.reflects = 0.5 * (even_out - odd_out);
    const Columns<Count> sum = even * (beam_down + beam_up), difference = odd * (beam_down - beam_up);
    s.down = 0.5 * (sum + difference);
    s.up = 0.5 * (sum - difference);

    for (int n = 0; n < doublings; ++n) {
        const Matrix between = (Matrix::Identity() - s.reflects * s.reflects).inverse();
        const Columns<Count> lower_up = s.up.array().rowwise() * s.left,
                             lower_down = s.down.array().rowwise() * s.left;
        const Columns<Count> middle_down = between * (s.down + s.reflects * lower_up);
        const Columns<Count> middle_up = lower_up + s.reflects * middle_down;
        s.down = lower_down + s.transmits * middle_down;
        s.up = s.up + s.transmits * middle_up;
        const Matrix through = s.transmits * between;
        s.reflects = s.reflects + through * s.reflects * s.transmits;
        s.transmits = through * s.transmits;
        s.left *= s.left;
    }
    return s;
}

template <int Count>
std::vector<Arriving> arriving_at(std::span<const Layer> layers, std::span<const LayerOptics> optics,
                                  double albedo, const SlantPaths& paths) {
    const auto& zenith_deg = paths.zenith_deg();
    const auto count = std::ssize(zenith_deg);
    RowArray<Count> cosine(count);
    for (Eigen::Index k = 0; k < count; ++k)
        cosine[k] = std::cos(zenith_deg[static_cast<std::size_t>(k)] * rad);
    const Eigen::ArrayXXd slant = paths.depths(optics);

    Matrix reflects = Matrix::Zero();  // of all layers above, seen from below
    Columns<Count> down = Columns<Count>::Zero(streams, count);
    RowArray<Count> beam = RowArray<Count>::Ones(count);  // after delta-M
    for (std::size_t i = 0; i < layers.size(); ++i) {
        const auto edge = static_cast<Eigen::Index>(i);
        const RowArray<Count> air_mass =
            (slant.row(edge + 1) - slant.row(edge)) / std::max(optics[i].depth, 1e-12);
        const Slab<Count> s = slab<Count>(optics[i], cosine, air_mass);
        const Matrix between = (Matrix::Identity() - reflects * s.reflects).inverse();
        const Columns<Count> up = s.up.array().rowwise() * beam;
        const Columns<Count> new_down = s.down.array().rowwise() * beam;
        down = new_down + s.transmits * (between * (down + reflects * up));
        reflects = s.reflects + s.transmits * between * reflects * s.transmits;
        beam *= s.left;
    }
    // Flux through a horizontal surface of intensities by stream; a Lambertian ground sends flux / pi into each.
    const auto flux = [](const auto& intensities) {
        return (2 * pi * (cosines.cwiseProduct(weights)).transpose() * intensities).eval();
    };
    const double sky_albedo = flux(reflects * Vector::Ones())(0, 0) / pi;
    const auto scattered = flux(down);
    std::vector<Arriving> result;
    for (Eigen::Index k = 0; k < count; ++k) {
        const double total = (cosine[k] * beam[k] + scattered(0, k)) / (1 - albedo * sky_albedo);
        const double direct = cosine[k] * std::exp(-slant(slant.rows() - 1, k));
        result.push_back({direct, total - direct});
    }
    return result;
}

}  // namespace

double shell_air_mass(double bottom, double top, double ground, double zenith_deg) {
    const double foot = (earth_radius + ground) * std::sin(zenith_deg * rad);
    const auto along = [&](double height) {
        return std::sqrt(std::max(0.0, (earth_radius + height) * (earth_radius + height) - foot * foot));
    };
    return (along(top) - along(bottom)) / (top - bottom);
}

SlantPaths::SlantPaths(std::span<const Layer> layers, std::span<const double> zenith_deg)
    : zenith_deg_(zenith_deg.begin(), zenith_deg.end()) {
    const auto count = std::ssize(layers);
    for (const double zenith : zenith_deg) {
        auto& mass = air_mass_.emplace_back(Eigen::MatrixXd::Zero(count + 1, count));
        for (std::ptrdiff_t edge = 1; edge <= count; ++edge) {
            const double height = layers[static_cast<std::size_t>(edge) - 1].bottom;
            for (std::ptrdiff_t i = 0; i < edge; ++i) {
                const Layer& shell = layers[static_cast<std::size_t>(i)];
                mass(edge, i) = shell_air_mass(shell.bottom, shell.top, height, zenith);
            }
        }
    }
}

Eigen::ArrayXXd SlantPaths::depths(std::span<const LayerOptics> optics) const {
    Eigen::VectorXd vertical(std::ssize(optics));
    for (std::ptrdiff_t i = 0; i < std::ssize(optics); ++i)
        vertical[i] = optics[static_cast<std::size_t>(i)].depth;
    Eigen::ArrayXXd depth(std::ssize(optics) + 1, std::ssize(air_mass_));
    for (std::ptrdiff_t k = 0; k < std::ssize(air_mass_); ++k) {
        depth.col(k) = air_mass_[static_cast<std::size_t>(k)] * vertical;
    }
    return depth;
}

std::vector<Arriving> arriving(std::span<const Layer> layers, std::span<const LayerOptics> optics,
                               double albedo, const SlantPaths& paths) {
    return paths.zenith_deg().size() == 1 ? arriving_at<1>(layers, optics, albedo, paths)
                                          : arriving_at<Eigen::Dynamic>(layers, optics, albedo, paths);
}

}  // namespace dapple::sky
