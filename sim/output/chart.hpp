// A chart of the report, free of how it is drawn: as static SVG, or as data for the interactive layer.
#pragma once

#include <cstddef>
#include <limits>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace bowrise {

/// How lines of one setup are told apart: by colour and, for those who do not see it, by dashes and letter.
struct LineStyle {
  std::string_view letter, colour;
  std::vector<int> dashes;  ///< on, off, ...; empty: solid
};
inline constexpr std::size_t most_overlaid = 6;  ///< more cannot be told apart
[[nodiscard]] const LineStyle& line_style(std::size_t setup);

/// "9 4": the dashes as SVG takes them; empty: solid.
[[nodiscard]] std::string dash_text(const LineStyle& style);

enum class LineWeight { thick, thin, dots };

/// Values over the abscissae of the chart's grid; NaN where there is none.
struct ChartLine {
  std::string name;  ///< "A thrust"; no text of a user
  std::size_t setup;
  LineWeight weight;
  std::vector<double> values;
};

/// A stretch of the abscissa that is shaded, in the lane of its setup.
struct ChartSpan {
  double from, to;
  std::size_t setup;
};

/// A level line across the chart.
struct ChartLevel {
  double value;
  std::size_t setup;
  std::string label;
};

struct ChartPoint {
  double x, y;
  std::size_t setup;
  std::string label;
};

/// A point of a scatter, told apart by its shape.
struct ChartDot {
  enum class Shape { ring, diamond, square };
  double x, y;
  Shape shape;
  std::string label;  ///< no text of a user; may be empty
};

/// A second reading of the ordinate: value * factor in another unit.
struct SecondUnit {
  std::string unit;
  double factor = 0.0;  ///< 0: none
};

/// Charts of one grid share their abscissae, their cursor and their zoom.
struct Chart {
  std::string id, title, caption;  ///< no text of a user
  std::string grid;                ///< name of its grid
  std::string unit;
  int decimals;  ///< that values are rounded to
  SecondUnit second;
  std::vector<ChartLine> lines{};
  std::vector<ChartSpan> spans{};
  std::vector<ChartLevel> levels{};
  std::vector<ChartPoint> points{};
  std::vector<ChartDot> dots{};                              ///< of a drawing without an interactive layer
  bool from_zero = true;                                     ///< the ordinate holds 0
  double ceiling = std::numeric_limits<double>::infinity();  ///< what lies above is not shown
};

struct ChartGrid {
  std::string label, unit;
  int decimals;  ///< that a reading is rounded to; 0: large numbers, whose ticks go without the unit
  SecondUnit second;
  std::vector<double> values;
};

struct Charts {
  std::map<std::string, ChartGrid, std::less<>> grids;
  std::vector<Chart> charts;
};

/// Ticks at 1, 2 or 5 times a power of ten, about `wanted` of them, inside [low, high].
[[nodiscard]] std::vector<double> ticks(double low, double high, int wanted);

/// A tick as text, without the noise of its arithmetic.
[[nodiscard]] std::string tick_text(double value);

/// What the ordinate spans, with a little air.
struct Ordinate {
  double low, high;
};
[[nodiscard]] Ordinate ordinate_of(const Chart& chart);

/// The chart drawn: an <svg> element with a text for those who cannot see it.
[[nodiscard]] std::string chart_svg(const Chart& chart, const ChartGrid& grid);

/// All grids and charts as JSON that may stand inside a <script> element.
/// @throws std::runtime_error when a number is infinite
[[nodiscard]] std::string charts_json(const Charts& charts);

}  // namespace bowrise
