#include "models/curve.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace bowrise {
namespace {

// Fritsch & Butland (1984): weighted harmonic mean of the neighbouring secants, zero at a local extreme.
double inner_slope(double step_before, double step_after, double secant_before, double secant_after) {
  if (secant_before * secant_after <= 0.0) return 0.0;
  const double weight_before = 2.0 * step_after + step_before;
  const double weight_after = step_after + 2.0 * step_before;
  return (weight_before + weight_after) / (weight_before / secant_before + weight_after / secant_after);
}

// One-sided three-point slope, limited so that the end cell stays monotone.
double end_slope(double step_end, double step_next, double secant_end, double secant_next) {
  const double slope =
      ((2.0 * step_end + step_next) * secant_end - step_end * secant_next) / (step_end + step_next);
  if (slope * secant_end <= 0.0) return 0.0;
  if (secant_end * secant_next < 0.0 && std::abs(slope) > 3.0 * std::abs(secant_end)) return 3.0 * secant_end;
  return slope;
}

std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y) {
  const std::size_t n = x.size();
  std::vector<double> step(n - 1), secant(n - 1), slope(n);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    step[i] = x[i + 1] - x[i];
    secant[i] = (y[i + 1] - y[i]) / step[i];
  }
  if (n == 2) return {secant[0], secant[0]};
  for (std::size_t i = 1; i + 1 < n; ++i)
    slope[i] = inner_slope(step[i - 1], step[i], secant[i - 1], secant[i]);
  slope[0] = end_slope(step[0], step[1], secant[0], secant[1]);
  slope[n - 1] = end_slope(step[n - 2], step[n - 3], secant[n - 2], secant[n - 3]);
  return slope;
}

}  // namespace

Curve::Curve(std::span<const double> x, std::span<const double> y)
    : x_(x.begin(), x.end()), y_(y.begin(), y.end()) {
  if (x.size() < 2 || x.size() != y.size()) throw std::invalid_argument("a curve needs two or more points");
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!std::isfinite(x[i]) || !std::isfinite(y[i]))
      throw std::invalid_argument("a curve point is not finite");
    if (i > 0 && x[i] <= x[i - 1]) throw std::invalid_argument("the abscissae of a curve must rise strictly");
  }
  slope_ = monotone_slopes(x, y);
}

double Curve::operator()(double x) const noexcept {
  if (!(x > x_.front())) return y_.front() + slope_.front() * (x - x_.front());
  if (x >= x_.back()) return y_.back() + slope_.back() * (x - x_.back());
  const auto after = std::upper_bound(x_.begin(), x_.end(), x);
  const auto i = static_cast<std::size_t>(after - x_.begin()) - 1;
  const double h = x_[i + 1] - x_[i], t = (x - x_[i]) / h, u = 1.0 - t;
  return y_[i] * u * u * (1.0 + 2.0 * t) + y_[i + 1] * t * t * (3.0 - 2.0 * t) +
         h * t * u * (slope_[i] * u - slope_[i + 1] * t);
}

double Curve::slope(double x) const noexcept {
  if (std::isnan(x)) return x;
  if (x <= x_.front()) return slope_.front();
  if (x >= x_.back()) return slope_.back();
  const auto after = std::upper_bound(x_.begin(), x_.end(), x);
  const auto i = static_cast<std::size_t>(after - x_.begin()) - 1;
  const double h = x_[i + 1] - x_[i], t = (x - x_[i]) / h, u = 1.0 - t;
  return 6.0 * t * u * (y_[i + 1] - y_[i]) / h + slope_[i] * u * (1.0 - 3.0 * t) +
         slope_[i + 1] * t * (3.0 * t - 2.0);
}

template <std::size_t columns>
UniformCurves<columns>::UniformCurves(double low, double high,
                                      const std::array<std::span<const double>, columns>& y)
    : low_(low), high_(high), cell_count_(static_cast<double>(y.front().size()) - 1.0) {
  const std::size_t count = y.front().size();
  if (!(low < high) || count < 4)
    throw std::invalid_argument("a uniform curve needs a range and four values");
  if (!std::isfinite(high - low)) throw std::invalid_argument("the range of a uniform curve is not finite");
  inverse_step_ = cell_count_ / (high - low);
  cells_.resize(count - 1);
  std::vector<double> index(count);
  for (std::size_t i = 0; i < count; ++i) index[i] = static_cast<double>(i);
  for (std::size_t column = 0; column < columns; ++column) {
    const std::span<const double> values = y[column];
    if (values.size() != count) throw std::invalid_argument("uniform curves need equal counts of values");
    for (const double value : values)
      if (!std::isfinite(value)) throw std::invalid_argument("a value of a uniform curve is not finite");
    const std::vector<double> slope = monotone_slopes(index, values);
    for (std::size_t i = 0; i + 1 < count; ++i) {
      const double rise = values[i + 1] - values[i];
      cells_[i].a[column] = values[i];
      cells_[i].b[column] = slope[i];
      cells_[i].c[column] = 3.0 * rise - 2.0 * slope[i] - slope[i + 1];
      cells_[i].d[column] = slope[i] + slope[i + 1] - 2.0 * rise;
    }
    end_value_[column] = values.back();
    end_slope_[column] = slope.back();
  }
}

template class UniformCurves<1>;
template class UniformCurves<5>;  // of a pump's stage

}  // namespace bowrise
