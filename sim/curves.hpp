// Curves: each component laid out over axes that the user imposes, everything else taking its steady value.
// This is how a published table is laid beside the program.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "models/setup.hpp"
#include "sim/units.hpp"

namespace bowrise {

enum class Axis : int {
  speed,
  thrust,
  trim,
  flow,
  shaft_speed,
  shaft_power,
  throttle,
  temperature,
  salinity,
  altitude,
  count
};

struct AxisRow {
  Axis axis;
  std::string_view name;
  Dimension dimension;
  Range possible;         ///< SI
  std::string_view unit;  ///< in which messages tell a point
  std::string_view meaning;
};
[[nodiscard]] std::span<const AxisRow> axis_rows();

/// Values imposed on one axis, SI.
struct AxisValues {
  Axis axis;
  std::vector<double> values;
};

enum class CurveKind : int { water, air, engine, hull, pump, intake, cavitation, thrust, cruise };

struct CurveRow {
  CurveKind kind;
  std::string_view name, meaning;
  std::vector<Axis> axes;                      ///< that may be imposed
  std::vector<Axis> required;                  ///< that must be imposed
  std::vector<std::array<Axis, 2>> exclusive;  ///< of which only one may be imposed
  std::vector<std::string_view> columns;       ///< in order, unit in the name
};
[[nodiscard]] std::span<const CurveRow> curve_rows();

/// Values of an axis that a kind of curve can answer, SI; never wider than the row of the axis.
[[nodiscard]] Range axis_range(CurveKind kind, Axis axis);

using Cell = std::variant<double, std::string>;

struct CurveTable {
  std::vector<std::string_view> columns;
  std::vector<std::vector<Cell>> rows;
  std::vector<std::string> missing;  ///< points without a steady answer, in words
};

/// Whether `--of hull` asks for the hull on its thrust line, without the rest of the craft: a test hull, or
/// thrust or trim imposed.
[[nodiscard]] bool hull_stands_alone(const Setup& setup, const std::vector<AxisValues>& axes);

/// Every combination of the axis values, the last axis fastest. The setup must have passed the checks its
/// kind needs.
/// @throws std::runtime_error with a message when a component cannot be prepared
[[nodiscard]] CurveTable curve_table(const Setup& setup, CurveKind kind, const std::vector<AxisValues>& axes);

}  // namespace bowrise
