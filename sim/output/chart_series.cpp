#include "sim/output/chart_series.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/units.hpp"

namespace bowrise {
namespace {

constexpr double most_time_steps = 900.0;  // more points than a screen has columns
constexpr double cavitating_share = 0.03;  // head loss that counts as cavitating, as in the results

}  // namespace

double mph(double speed_m_s) { return in_unit(speed_m_s, "mph"); }

SecondUnit km_h() { return {"km/h", 1.0 / mph(from_unit(1.0, *find_unit("km/h")))}; }

std::vector<double> laid_over(const std::vector<double>& x, const std::vector<double>& y,
                              const std::vector<double>& grid) {
  std::vector<double> values;
  std::size_t next = 0;
  for (const double at : grid) {
    while (next < x.size() && x[next] < at) ++next;
    if (next == x.size() || (next == 0 && x[0] > at)) {
      values.push_back(std::numeric_limits<double>::quiet_NaN());
    } else if (x[next] == at) {
      values.push_back(y[next]);
    } else {
      const double share = (at - x[next - 1]) / (x[next] - x[next - 1]);
      values.push_back(y[next - 1] + share * (y[next] - y[next - 1]));
    }
  }
  return values;
}

std::vector<double> sampled(const std::vector<TraceRow>& rows, const Quantity& quantity,
                            const std::vector<double>& times_s) {
  std::vector<double> x, y;
  for (const TraceRow& row : rows) {
    x.push_back(row.time_s);
    y.push_back(quantity(row));
  }
  return laid_over(x, y, times_s);
}

std::vector<double> chart_times(double end_s) {
  const double step = std::max(0.01, std::ceil(end_s / most_time_steps * 100.0) / 100.0);
  std::vector<double> times;
  for (std::size_t i = 0; static_cast<double>(i) * step < end_s - 1e-3; ++i)
    times.push_back(static_cast<double>(i) * step);
  times.push_back(end_s);
  return times;
}

std::vector<ChartSpan> cavitating_spans(const std::vector<TraceRow>& rows, std::size_t setup) {
  std::vector<ChartSpan> spans;
  bool open = false;
  for (const TraceRow& row : rows) {
    const bool cavitates = 1.0 - row.now.head_factor > cavitating_share;
    if (cavitates && !open) spans.push_back({row.time_s, row.time_s, setup});
    if (cavitates || open) spans.back().to = row.time_s;
    open = cavitates;
  }
  return spans;
}

}  // namespace bowrise
