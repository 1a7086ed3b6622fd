#include "sim/output/csv.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <random>

#include "sim/trace.hpp"
#include "tests/support/not_finite.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

using test::infinity, test::not_a_number;

CurveTable table_of(std::vector<Cell> cells) {
  CurveTable table;
  table.columns.assign(cells.size(), "number");
  table.rows.push_back(std::move(cells));
  return table;
}

TraceRow row_at(double time_s) {
  TraceRow row{};
  row.time_s = time_s;
  row.now.limited_by = Limit::hull;
  return row;
}

}  // namespace

TEST_CASE("a curve is a header and lines of cells") {
  CurveTable table;
  table.columns = {"speed_m_s", "flags"};
  table.rows = {{1.5, "porpoising chines_dry"}, {-0.0, ""}};
  CHECK(curve_csv(table) == "speed_m_s,flags\n1.5,porpoising chines_dry\n0,\n");
  table.rows.clear();
  CHECK(curve_csv(table) == "speed_m_s,flags\n");
}

TEST_CASE("numbers in CSV read back as the same double") {
  std::mt19937_64 generator(20240229);
  std::uniform_real_distribution<double> mantissa(-1.0, 1.0), exponent(-300.0, 300.0);
  for (int i = 0; i < 2000; ++i) {
    const double number = mantissa(generator) * std::pow(10.0, exponent(generator));
    const std::string text = curve_csv(table_of({number}));
    CHECK(std::strtod(text.c_str() + text.find('\n') + 1, nullptr) == number);
  }
  for (const double number : {5e-324, 1.7976931348623157e308, 0.1, 1.0 / 3.0, 1e22, 123456789012345680.0}) {
    const std::string text = curve_csv(table_of({number}));
    CHECK(std::strtod(text.c_str() + text.find('\n') + 1, nullptr) == number);
  }
}

TEST_CASE("nothing that is not finite reaches a curve") {
  for (const double number : {infinity, -infinity, not_a_number})
    CHECK_THROWS_AS(curve_csv(table_of({1.0, number})), std::runtime_error);
}

TEST_CASE("a trace has a header of all columns and one line a row") {
  Launch launch{};
  launch.rows = {row_at(0.0), row_at(0.25)};
  const std::string text = trace_csv(Craft{}, launch);
  std::string header;
  for (const TraceColumn& column : trace_columns())
    header += (header.empty() ? "" : ",") + std::string(column.name);
  CHECK(text.substr(0, text.find('\n')) == header);
  CHECK(has(text, "\n0,0,"));
  CHECK(has(text, "\n0.25,0,"));
  CHECK(has(text, ",hull,"));
}

TEST_CASE("a trace that is not finite is refused with column and time") {
  Launch launch{};
  launch.rows = {row_at(0.0), row_at(0.25)};
  launch.rows[1].state.flow_m3_s = not_a_number;
  CHECK_THROWS_WITH(trace_csv(Craft{}, launch), Catch::Contains("flow_m3_s") && Catch::Contains("0.25"));
  launch.rows[1] = row_at(infinity);
  CHECK_THROWS_WITH(trace_csv(Craft{}, launch), Catch::Contains("time_s"));
}

}  // namespace bowrise
