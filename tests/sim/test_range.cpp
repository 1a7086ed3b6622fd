#include "sim/scenario/range.hpp"
#include "tests/support/text.hpp"

#include <catch2/catch.hpp>
#include <limits>

namespace bowrise {
namespace {

using Values = std::vector<double>;

constexpr Range any{-1e9, 1e9};

Values values(std::string_view text, Dimension dimension = Dimension::speed, Range possible = any) {
  const auto result = parse_range(text, dimension, possible);
  if (const auto* error = std::get_if<QuantityError>(&result)) FAIL(text << ": " << error->what);
  return std::get<Values>(result);
}

std::string complaint(std::string_view text, Dimension dimension = Dimension::speed, Range possible = any) {
  const auto result = parse_range(text, dimension, possible);
  return std::holds_alternative<Values>(result) ? "" : std::get<QuantityError>(result).what;
}

}  // namespace

TEST_CASE("one value is a range") {
  CHECK(values("25 m/s") == Values{25.0});
  CHECK(values(" 25m/s ") == Values{25.0});
  CHECK(values("36 km/h") == Values{10.0});
  CHECK(values("0.5", Dimension::dimensionless) == Values{0.5});
  CHECK(values("-3 m/s") == Values{-3.0});
  CHECK(values("1e-3 m/s") == Values{1e-3});
}

TEST_CASE("a list keeps its order; the unit at its end serves those without one") {
  CHECK(values("5,3,4 m/s") == Values{5.0, 3.0, 4.0});
  CHECK(values("36 km/h, 3 m/s") == Values{10.0, 3.0});
  CHECK(values("1, 2,5 mm", Dimension::length) == Values{1e-3, 2e-3, 5e-3});
  CHECK(values("0,0.5,1", Dimension::dimensionless) == Values{0.0, 0.5, 1.0});
}

TEST_CASE("equal steps hit both ends exactly") {
  CHECK(values("5..30 m/s:6") == Values{5.0, 10.0, 15.0, 20.0, 25.0, 30.0});
  CHECK(values("5m/s..30m/s:2") == Values{5.0, 30.0});
  CHECK(values("36 km/h..20 m/s : 3") == Values{10.0, 15.0, 20.0});
  CHECK(values("30..5m/s:6") == Values{30.0, 25.0, 20.0, 15.0, 10.0, 5.0});
  CHECK(values("-2..2deg:3", Dimension::angle)[1] == 0.0);
  const Values many = values("0.1..0.7 m/s:100000");
  CHECK(many.size() == 100'000);
  CHECK(many.front() == 0.1);
  CHECK(many.back() == 0.7);
}

TEST_CASE("a temperature range is counted in kelvin, not in degrees above a shifted zero") {
  const Values range = values("0..40 degC:3", Dimension::temperature);
  REQUIRE(range.size() == 3);
  CHECK(range[0] == 273.15);
  CHECK(range[1] == Approx(293.15).epsilon(1e-15));
  CHECK(range[2] == Approx(313.15).epsilon(1e-15));
}

TEST_CASE("what is no range is told") {
  CHECK(has(complaint(""), "nothing is given"));
  CHECK(has(complaint("25"), "has no unit"));
  CHECK(has(complaint("25 kg"), "is a mass"));
  CHECK(has(complaint("5,,6 m/s"), "does not begin with a number"));
  CHECK(has(complaint("5,6"), "has no unit"));
  CHECK(has(complaint("fast"), "does not begin with a number"));
  CHECK(has(complaint("5..30 m/s"), "LOW..HIGH:COUNT"));
  CHECK(has(complaint("5..30"), "LOW..HIGH:COUNT"));
  CHECK(has(complaint("5:6..30 m/s"), "LOW..HIGH:COUNT"));
  CHECK(has(complaint("..30 m/s:3"), "does not begin with a number"));
  CHECK(has(complaint("5 m/s..:3"), "nothing is given"));
  CHECK_FALSE(complaint("5..10..30 m/s:3").empty());
  CHECK(has(complaint("5...30 m/s:3"), "three dots"));  // 30 or 0.30?
  CHECK(has(complaint("5 kg..30 m/s:3"), "is a mass"));
}

TEST_CASE("a count is a whole number from 2 to 100 000") {
  for (const char* text : {"5..30m/s:", "5..30m/s:0", "5..30m/s:1", "5..30m/s:-4", "5..30m/s:2.5",
                           "5..30m/s:six", "5..30m/s:100001", "5..30m/s:99999999999999999999"}) {
    INFO(text);
    CHECK(has(complaint(text), "is not a count from 2 to 100000"));
  }
}

TEST_CASE("values outside the possible range are refused, wherever they stand") {
  const Range possible{0.0, 120.0};
  CHECK(values("0..120 m/s:2", Dimension::speed, possible) == Values{0.0, 120.0});
  for (const char* text : {"121 m/s", "-1 m/s", "5,121 m/s", "-1..5 m/s:3", "5..121 m/s:3"}) {
    INFO(text);
    CHECK(has(complaint(text, Dimension::speed, possible), "is outside 0 m/s to 120 m/s"));
  }
  CHECK_FALSE(complaint("nan m/s", Dimension::speed, possible).empty());
  CHECK_FALSE(complaint("inf m/s", Dimension::speed, possible).empty());
}

}  // namespace bowrise
