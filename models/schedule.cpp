#include "models/schedule.hpp"

namespace bowrise {

Schedule::Schedule(const TableRows& rows, double constant) : constant_(constant), varies_(!rows.empty()) {
  if (!varies_) return;
  // A further point of the same value beyond each end makes the slope vanish there: held, without a corner.
  constexpr double margin_m_s = 1.0;
  std::vector<double> speed{rows.front()[0] - margin_m_s}, value{rows.front()[1]};
  for (const auto& row : rows) {
    speed.push_back(row[0]);
    value.push_back(row[1]);
  }
  speed.push_back(rows.back()[0] + margin_m_s);
  value.push_back(rows.back()[1]);
  curve_ = Curve(speed, value);
}

}  // namespace bowrise
