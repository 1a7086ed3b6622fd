#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "sim/output/html.hpp"
#include "sim/output/page_charts.hpp"

namespace bowrise {
namespace {

/// How a limit is drawn: a ground, a pattern over it, a short word (letters are those of setups).
struct LimitStyle {
  std::string_view ground, ink, pattern, word, meaning;
};

// In the order of `limit_words`.
constexpr std::array<LimitStyle, limit_words.size()> limit_styles{
    LimitStyle{"#222222", "#ffffff", "", "lim", "rev limiter cuts"},
    {"#bfe6f2", "#00606b", "<circle cx=\"4\" cy=\"4\" r=\"1.6\"/>", "air", "air in the pump"},
    {"#ffd9b0", "#8f2d00", "<path d=\"M0 8L8 0\"/>", "cav", "cavitation"},
    {"#fff3a8", "#5c4a00", "<path d=\"M0 4H8\"/>", "thr", "throttle not open, or air path behind it"},
    {"#cfe8cf", "#14521f", "<path d=\"M0 4H8M4 0V8\"/>", "hull", "hull: thrust has met drag"},
    {"#ffffff", "#222222", "", "eng", "engine torque"}};

constexpr double narrowest_named = 9.0;  // per cent of the strip that a word needs on a phone

struct Stretch {
  double from_s, to_s;
  std::size_t limit;
};

std::vector<Stretch> stretches_of(const std::vector<TraceRow>& rows) {
  std::vector<Stretch> stretches;
  for (const TraceRow& row : rows) {
    const auto limit = static_cast<std::size_t>(row.now.limited_by);
    if (!stretches.empty()) stretches.back().to_s = row.time_s;
    if (stretches.empty() || stretches.back().limit != limit)
      stretches.push_back({row.time_s, row.time_s, limit});
  }
  return stretches;
}

std::string pattern_id(std::size_t limit) { return "limit-" + std::string(limit_words[limit]); }

std::string patterns() {
  std::string out = "<svg class=\"defs\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>";
  for (std::size_t i = 0; i < limit_styles.size(); ++i) {
    const LimitStyle& style = limit_styles[i];
    out += fmt::format(
        "<pattern id=\"{}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\"><rect width=\"8\" "
        "height=\"8\" "
        "fill=\"{}\"/><g stroke=\"{}\" fill=\"{}\">{}</g></pattern>",
        pattern_id(i), style.ground, style.ink, style.ink, style.pattern);
  }
  return out + "</defs></svg>\n";
}

std::string words_of(const std::vector<Stretch>& stretches) {
  std::string words;
  for (const Stretch& s : stretches)
    words += fmt::format("{}{} {:.2f} to {:.2f} s", words.empty() ? "" : "; ", limit_words[s.limit], s.from_s,
                         s.to_s);
  return words;
}

std::string strip(std::size_t setup, const std::vector<Stretch>& stretches, double end_s) {
  std::string out =
      fmt::format("<div class=\"strip\"><b>{}</b><svg class=\"limits\" role=\"img\" aria-label=\"{}\">",
                  letter_of(setup), escaped(words_of(stretches)));
  for (const Stretch& s : stretches) {
    const double from = 100.0 * s.from_s / end_s, wide = 100.0 * (s.to_s - s.from_s) / end_s;
    out += fmt::format(
        "<g data-from=\"{:.3f}\" data-to=\"{:.3f}\"><rect x=\"{:.3f}%\" width=\"{:.3f}%\" y=\"1\" "
        "height=\"28\" "
        "fill=\"url(#{})\" stroke=\"#222\"/>",
        s.from_s, s.to_s, from, wide, pattern_id(s.limit));
    out += fmt::format("<text x=\"{:.3f}%\" y=\"20\" text-anchor=\"middle\" class=\"{}\"{}>{}</text></g>",
                       from + wide / 2.0, s.limit == 0 ? "light" : "dark",
                       wide < narrowest_named ? " visibility=\"hidden\"" : "", limit_styles[s.limit].word);
  }
  return out + "</svg></div>\n";
}

std::string key() {
  std::string out = "<ul class=\"key\">";
  for (std::size_t i = 0; i < limit_styles.size(); ++i)
    out += fmt::format(
        "<li><svg width=\"44\" height=\"22\" aria-hidden=\"true\"><rect x=\"1\" y=\"1\" width=\"42\" "
        "height=\"20\" "
        "fill=\"url(#{})\" stroke=\"#222\"/><text x=\"22\" y=\"16\" text-anchor=\"middle\" "
        "class=\"{}\">{}</text></svg>{}</li>",
        pattern_id(i), i == 0 ? "light" : "dark", limit_styles[i].word, escaped(limit_styles[i].meaning));
  return out + "</ul>\n";
}

}  // namespace

std::string limit_strips(const Report& report) {
  double end = 0.0;
  for (const SetupReport& setup : report.setups)
    if (!setup.launch.rows.empty()) end = std::max(end, setup.launch.rows.back().time_s);
  std::string out = patterns();
  for (std::size_t i = 0; i < report.setups.size(); ++i)
    out += strip(i, stretches_of(report.setups[i].launch.rows), std::max(end, 1e-9));
  return out + key();
}

}  // namespace bowrise
