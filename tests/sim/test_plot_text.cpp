// The chart of characters: its size, and that it shows what the launch did.
#include "sim/output/plot_text.hpp"

#include <catch2/catch.hpp>

#include "models/constants.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

std::vector<std::string> lines_of_text(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t start = 0; start < text.size();) {
    const auto end = text.find('\n', start);
    lines.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return lines;
}

/// A launch whose speed rises evenly to 100 mph, 100 columns of time.
Launch straight_line() {
  Launch launch{};
  for (int i = 0; i <= 1000; ++i) {
    TraceRow row{};
    row.time_s = 0.01 * i;
    row.state.speed_m_s = 44.704 * i / 1000.0;  // 0.44704 m/s is a mile an hour by definition
    row.state.shaft_speed_rad_s = (i == 500 ? 8000.0 : 4000.0) * pi / 30.0;
    row.now.head_factor = 1.0;
    launch.rows.push_back(row);
  }
  return launch;
}

}  // namespace

TEST_CASE("a plot is at most 72 columns of plain ASCII") {
  const test::Outcome demo = test::outcome_of("supercharged_three_seat", {}, true);
  const std::string text = plot_text(demo.launch);
  CHECK(lines_of_text(text).size() == 3 * 9 + 2);
  for (const std::string& line : lines_of_text(text)) CHECK(line.size() <= 72);
  for (const char c : text) CHECK((c == '\n' || (c >= ' ' && c <= '~')));
  CHECK(text == plot_text(demo.launch));
}

TEST_CASE("a straight line is drawn as one, and a flare shorter than a column is not lost") {
  const auto lines = lines_of_text(plot_text(straight_line()));
  CHECK(lines[0] == "speed, mph");
  CHECK(lines[1].substr(0, 7) == "  100 |");
  CHECK(lines[8].substr(0, 7) == "    0 |");
  std::size_t last = 72;
  for (std::size_t i = 1; i <= 8; ++i) {  // from the top: each line begins left of the one above
    const std::size_t first = lines[i].find('*');
    CHECK(first < last);
    last = first;
  }
  CHECK(lines[1].size() == 72);
  CHECK(lines[8].find('*') == 7);
  // 8000 rpm for one row in the middle, 4000 otherwise
  CHECK(lines[10].substr(0, 7) == " 8000 |");
  CHECK(lines[10].find('*') == lines[10].rfind('*'));
  CHECK(lines[10].find('*') == Approx(7 + 32).margin(1.0));
  CHECK(lines[27].find("+") == 6);
}

TEST_CASE("no rows make no plot") { CHECK(plot_text(Launch{}).empty()); }

}  // namespace bowrise
