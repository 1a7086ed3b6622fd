#pragma once
/// Coefficients of the Rosenbrock method that `rosenbrock.hpp` steps with; its head names their source, and
/// tests/sim/test_rosenbrock.cpp checks the conditions of order and stability that they must meet.
#include <array>

namespace bowrise::detail {

/// Coefficients of RODASP in the transformed form; row i belongs to stage i + 1.
struct Rodasp {
  static constexpr int stages = 6;
  using Table = std::array<std::array<double, 5>, stages>;

  static constexpr double gamma = 0.25;
  static constexpr std::array<double, stages> alpha{0, 0.75, 0.21, 0.63, 1, 1};
  static constexpr std::array<double, stages> gamma_row{0.25, -0.5, -0.023504, -0.0362, 0, 0};
  static constexpr Table a{{
      {},
      {3},
      {1.831036793486759, 0.4955183967433795},
      {2.304376582692669, -0.05249275245743001, -1.176798761832782},
      {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401},
      {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1},
  }};
  static constexpr Table c{{
      {},
      {-12},
      {-8.791795173947035, -2.207865586973518},
      {10.81793056857153, 6.780270611428266, 19.53485944642410},
      {34.19095006749676, 15.49671153725963, 54.74760875964130, 14.16005392148534},
      {34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717},
  }};
  /// Dense output: y(t + s h) = (1 - s) y0 + s (y1 + (1 - s) (q + s r)), q and r = sum_j d_j u_j.
  static constexpr std::array<double, 5> d_q{25.09876703708589, 11.62013104361867, 28.49148307714626,
                                             -5.664021568594133, 0};
  static constexpr std::array<double, 5> d_r{1.638054557396973, -0.7373619806678748, 8.477918219238990,
                                             15.99253148779520, -1.882352941176471};
};

}  // namespace bowrise::detail
