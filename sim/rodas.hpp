#pragma once
/// Coefficients of the Rosenbrock method that `rosenbrock.hpp` steps with; its head names their source, and
/// tests/sim/test_rosenbrock.cpp derives the rows of alpha and gamma from a and c.
#include <array>

namespace bowrise::detail {

/// Coefficients of RODAS in the transformed form; row i belongs to stage i + 1.
struct Rodas {
  static constexpr int stages = 6;
  using Table = std::array<std::array<double, 5>, stages>;

  static constexpr double gamma = 0.25;
  static constexpr std::array<double, stages> alpha{0, 0.386, 0.21, 0.63, 1, 1};
  static constexpr std::array<double, stages> gamma_row{0.25, -0.1043, 0.1035, -0.03620000000000023, 0, 0};
  static constexpr Table a{{
      {},
      {1.544},
      {0.9466785280815826, 0.2557011698983284},
      {3.314825187068521, 2.896124015972201, 0.9986419139977817},
      {1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950},
      {1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1},
  }};
  static constexpr Table c{{
      {},
      {-5.6688},
      {-2.430093356833875, -0.2063599157091915},
      {-0.1073529058151375, -9.594562251023355, -20.47028614809616},
      {7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160},
      {8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054},
  }};
  /// Dense output: y(t + s h) = (1 - s) y0 + s (y1 + (1 - s) (q + s r)), q and r = sum_j d_j u_j.
  static constexpr std::array<double, 5> d_q{10.12623508344586, -7.487995877610167, -34.80091861555747,
                                             -7.992771707568823, 1.025137723295662};
  static constexpr std::array<double, 5> d_r{-0.6762803392801253, 6.087714651680015, 16.43084320892478,
                                             24.76722511418386, -6.594389125716872};
};

}  // namespace bowrise::detail
