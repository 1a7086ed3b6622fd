#pragma once
/// The inverse of a small dense matrix, for steppers that solve several systems with it.
#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstddef>

namespace bowrise::detail {

/// Inverse of a small dense matrix by Gauss-Jordan elimination, rows exchanged for the largest pivot. A
/// singular matrix gives values that are not finite, never a trap. Why an inverse: six solutions follow each
/// other, and triangular ones wait on every element; for N = 10 this takes half the time of LU factors
/// (measured, g++ 12). The forward error stays of the order epsilon * condition number, as with LU (Du Croz
/// and Higham 1992).
template <std::size_t N>
class SmallInverse {
 public:
  using Matrix = Eigen::Matrix<double, static_cast<int>(N), static_cast<int>(N)>;
  using Vector = Eigen::Matrix<double, static_cast<int>(N), 1>;

  void invert(const Matrix& matrix) noexcept {
    inverse_ = matrix;
    for (int k = 0; k < size; ++k) {
      bring_up_largest(k);
      eliminate(k);
    }
    for (int k = size - 1; k >= 0; --k) {
      if (const int other = pivot_row_[static_cast<std::size_t>(k)]; other != k) {
        inverse_.col(k).swap(inverse_.col(other));
      }
    }
  }

  template <class Right>
  [[nodiscard]] Vector solve(const Right& b) const noexcept {
    Vector x = Vector::Zero();
    for (int k = 0; k < size; ++k) x += b[k] * inverse_.col(k);
    return x;
  }

 private:
  static constexpr int size = static_cast<int>(N);

  void bring_up_largest(int k) noexcept {
    int largest = k;
    for (int i = k + 1; i < size; ++i) {
      if (std::abs(inverse_(i, k)) > std::abs(inverse_(largest, k))) largest = i;
    }
    pivot_row_[static_cast<std::size_t>(k)] = largest;
    if (largest != k) inverse_.row(k).swap(inverse_.row(largest));
  }

  /// Clears column k but for the pivot; in its place grows column k of the inverse.
  void eliminate(int k) noexcept {
    const double inverse_pivot = 1 / inverse_(k, k);
    Vector others = inverse_.col(k);
    others[k] = 0;
    inverse_.col(k).setZero();
    inverse_(k, k) = 1;
    if (others.isZero(0)) {  // the column of an inactive component
      inverse_.row(k) *= inverse_pivot;
      return;
    }
    for (int j = 0; j < size; ++j) {
      const double scaled = inverse_(k, j) * inverse_pivot;
      if (scaled == 0) continue;  // Jacobians are full of zeros
      inverse_.col(j) -= scaled * others;
      inverse_(k, j) = scaled;
    }
  }

  Matrix inverse_;
  std::array<int, N> pivot_row_{};
};

}  // namespace bowrise::detail
