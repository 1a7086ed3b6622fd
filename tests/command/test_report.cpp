// bowrise report from outside: files and messages; and the page in a real browser, where one is installed.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <regex>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

/// The value of an attribute, the first time it stands in the page.
std::string attribute(const std::string& page, const std::string& name) {
  const auto at = page.find(name + "=\"");
  INFO("attribute " << name);
  REQUIRE(at != std::string::npos);
  const auto start = at + name.size() + 2;
  return page.substr(start, page.find('"', start) - start);
}

// Acts as a rider's mouse would, then writes down what the page made of it.
constexpr std::string_view probe = R"(<script>
(function () {
  function ink(canvas) {
    var bytes = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data, inked = 0;
    for (var i = 3; i < bytes.length; i += 4) if (bytes[i] > 0) ++inked;
    return inked;
  }
  var live = Array.prototype.slice.call(document.querySelectorAll('.live'));
  var note = document.body.dataset;
  note.charts = live.length;
  note.leastInk = Math.min.apply(null, live.map(function (place) {
    return Array.prototype.reduce.call(place.querySelectorAll('canvas'), function (sum, c) { return sum + ink(c); }, 0);
  }));
  var canvases = document.querySelectorAll('#speed .live canvas'), target = canvases[canvases.length - 1];
  function fire(type, share, where) {
    var box = target.getBoundingClientRect();
    where.dispatchEvent(new MouseEvent(type, { bubbles: true, view: window, button: 0,
      clientX: box.left + share * box.width, clientY: box.top + 100 }));
  }
  function readings() {
    return Array.prototype.map.call(document.querySelectorAll('#traces .reading b:first-child'),
      function (b) { return b.textContent; }).join('');
  }
  function firstEdge() { return document.querySelector('svg.limits g:last-child rect').getAttribute('x'); }
  note.before = firstEdge();
  fire('mousemove', 0.6, target);
  note.readings = readings();
  fire('mousedown', 0.3, target);
  fire('mousemove', 0.6, document);
  fire('mouseup', 0.6, document);
  note.zoomed = firstEdge();
  document.querySelector('.whole').click();
  note.whole = firstEdge();
  note.wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
}());
</script>)";

// What every page must stand: charts drawn, no sideways scrolling, two fingers zoom.
constexpr std::string_view plain_probe = R"(<script>
(function () {
  var live = Array.prototype.slice.call(document.querySelectorAll('.live')), note = document.body.dataset;
  function ink(place) {
    return Array.prototype.reduce.call(place.querySelectorAll('canvas'), function (sum, canvas) {
      var bytes = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data;
      for (var i = 3; i < bytes.length; i += 4) if (bytes[i] > 0) ++sum;
      return sum;
    }, 0);
  }
  function labels(place) { return place.querySelectorAll('.dygraph-axis-label-x').length ? place.innerText : ''; }
  function pinch(place, apart) {
    var box = place.getBoundingClientRect();
    function finger(id, share) {
      return new Touch({ identifier: id, target: place, clientX: box.left + share * box.width, clientY: box.top + 50 });
    }
    var touches = [finger(1, 0.5 - apart), finger(2, 0.5 + apart)];
    place.dispatchEvent(new TouchEvent(apart < 0.2 ? 'touchstart' : 'touchmove', { bubbles: true, cancelable: true, touches: touches, targetTouches: touches, changedTouches: touches }));
  }
  note.charts = live.length;
  note.leastInk = live.length ? Math.min.apply(null, live.map(ink)) : 0;
  note.pinched = 'none';
  if (live.length) {
    var before = labels(live[0]);
    pinch(live[0], 0.1);
    pinch(live[0], 0.4);
    note.pinched = labels(live[0]) === before ? 'no' : 'yes';
  }
  note.wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
}());
</script>)";

struct Browsed {
  std::string page, log;
};

Browsed browse(const Folder& folder, const fs::path& page, const std::string& size) {
  const std::string dom = (folder.path / "dom.html").string(), log = (folder.path / "log.txt").string();
  const std::string command =
      "HOME='" + folder.path.string() +
      "' timeout 120 chromium --headless --no-sandbox --disable-gpu --virtual-time-budget=4000 "
      "--enable-logging=stderr --window-size=" +
      size + " --dump-dom 'file://" + page.string() + "' >'" + dom + "' 2>'" + log + "'";
  CHECK(std::system(command.c_str()) == 0);
  return {content_of(dom), content_of(log)};
}

bool browser_is_here() { return std::system("command -v chromium >/dev/null 2>&1") == 0; }

}  // namespace

TEST_CASE("verb report writes one page, the same bytes with any number of threads") {
  const Folder folder;
  std::vector<std::string> pages;
  for (const char* threads : {"1", "2", "4"}) {
    const fs::path out = folder.path / (std::string(threads) + ".html");
    const Finished result = run_program(
        {"report", scenario_file("supercharged_three_seat"), scenario_file("two_stage"), "--band", "8",
         "--threads", threads, "--out", out.string()},
        {.folder = folder.path, .environment = {{"LC_ALL", "de_DE.UTF-8"}}, .standard_output = ""});
    INFO(result.err);
    CHECK(result.exit_code == 0);
    CHECK(has(result.out, out.string()));
    pages.push_back(content_of(out));
  }
  CHECK(has(pages[0], "<!DOCTYPE html>"));
  CHECK(pages[0] == pages[1]);
  CHECK(pages[0] == pages[2]);
}

TEST_CASE("verb report refuses what it cannot show and leaves the old page alone") {
  const Folder folder;
  const fs::path old = folder.put("old.html", "old");
  const std::string demo = demo_scenario();
  const auto check_refused = [&](const std::vector<std::string>& arguments, int code, std::string_view part) {
    const Finished result = run_program(arguments);
    INFO(result.err);
    CHECK(result.exit_code == code);
    CHECK(has(result.err, part));
    CHECK(lines_of(result.err).size() == 1);
    CHECK(content_of(old) == "old");
  };
  check_refused({"report", demo}, 2, "--out");
  check_refused({"report", "--out", old.string()}, 2, "SCENARIO");
  check_refused({"report", demo, demo, demo, demo, demo, demo, demo, "--out", old.string()}, 2, "1 to 6");
  check_refused({"report", demo, "--set", "nozzle.exit_diameter=84", "--out", old.string()}, 2,
                "has no unit");
  check_refused({"report", demo, "--out", (folder.path / "none" / "page.html").string()}, 3, "page.html");
  check_refused({"report", demo, "--out", folder.path.string()}, 3, "cannot be written");
}

TEST_CASE("verb report escapes a hostile scenario file") {
  const Folder folder;
  const fs::path hostile = folder.put(
      "hostile <b>.yaml",
      "from: " + demo_scenario() +
          "\ntitle: \"</script><script>alert(1)</script>\"\nnote: \"<img src=x onerror=alert(2)>\"\n");
  const fs::path out = folder.path / "page.html";
  CHECK(run_program({"report", hostile.string(), "--out", out.string(), "--quiet"}).out.empty());
  const std::string page = content_of(out);
  CHECK_FALSE(has(page, "<script>alert"));
  CHECK_FALSE(has(page, "<img"));
  CHECK_FALSE(has(page, "hostile <b>"));
  CHECK(has(page, "&lt;/script&gt;&lt;script&gt;alert(1)"));
}

TEST_CASE("a browser draws the charts, shares cursor and zoom, and reports no error") {
  if (!browser_is_here()) {
    WARN("chromium is not installed: the page was not shown to a browser");
    return;
  }
  const Folder folder;
  const fs::path plain = folder.path / "plain.html";
  REQUIRE(run_program({"report", scenario_file("supercharged_three_seat"), scenario_file("two_stage"),
                       scenario_file("worn_ring"), "--out", plain.string()})
              .exit_code == 0);
  std::string content = content_of(plain);
  content.insert(content.rfind("</body>"), probe);
  for (const char* size : {"360,800", "1280,900"}) {
    INFO(size);
    const Browsed seen = browse(folder, folder.put("probed.html", content), size);
    INFO(seen.log);
    CHECK_FALSE(has(seen.log, "CONSOLE"));
    CHECK(attribute(seen.page, "data-charts") == "10");
    CHECK(std::stol(attribute(seen.page, "data-least-ink")) > 1000);
    // all seven traces and the difference read at one time
    const std::string readings = attribute(seen.page, "data-readings");
    const std::string first = readings.substr(0, readings.find(':') + 1);
    CHECK(has(first, "at "));
    CHECK(count_of(readings, first) == 7);
    CHECK(attribute(seen.page, "data-zoomed") != attribute(seen.page, "data-before"));
    CHECK(std::stod(attribute(seen.page, "data-whole")) ==
          Approx(std::stod(attribute(seen.page, "data-before"))).margin(0.01));
    CHECK(attribute(seen.page, "data-wide") == "0");  // no sideways scrolling of the page itself
  }
}

TEST_CASE("the report of a fitted scenario has the bands of its fit") {
  const Folder folder;
  const std::string fitted = in_source_tree("scenarios/fitted/fitted.yaml").string();
  const Finished run = run_program({"run", fitted, "--band", "16"});
  std::smatch low;  // nominal, 5 %, median, 95 % in mph and km/h
  REQUIRE(std::regex_search(run.out, low, std::regex("top speed +[0-9.]+ mph, [0-9.]+ km/h +([0-9.]+ mph)")));
  const fs::path out = folder.path / "fitted.html";
  REQUIRE(run_program({"report", fitted, "--band", "16", "--out", out.string()}).exit_code == 0);
  CHECK(has(content_of(out), " " + low.str(1).substr(0, low.str(1).find(' ')) + " to "));
}

TEST_CASE("a browser shows the page of every study, whatever the title says", "[long]") {
  const Folder folder;
  const fs::path hostile =
      folder.put("hostile <b>.yaml",
                 "from: " + demo_scenario() + "\ntitle: \"</script><script>alert(1)</script>' & \\u202E" +
                     std::string(300, 'w') + "\"\nnote: \"<img src=x onerror=alert(2)>\"\n");
  const std::string log = in_source_tree("scenarios/fitted/generated_run.csv").string();
  const std::vector<std::pair<std::string, std::vector<std::string>>> pages{
      {"16", {"throttle"}},
      {"6", {"wear", "--launches", "50", "--strategy", "pinned", "--strategy", "rider"}},
      {"0", {"diagnose", "--seen", "top_speed=61mph", "--seen", "top_rpm=6750rpm"}},
      {"0",
       {"sweep", "--vary", "nozzle.exit_diameter=82..90mm:5", "--rank", "holeshot=1", "--rank", "top=1"}},
      {"4", {"fit", log}}};
  for (const auto& [charts, arguments] : pages) {
    INFO(arguments[0]);
    std::vector<std::string> all = arguments;
    const fs::path out = folder.path / (arguments[0] + ".html");
    all.insert(all.begin() + 1, hostile.string());
    all.insert(all.end(), {"--html", out.string(), "--quiet"});
    const Finished made = run_program(all);
    INFO(made.err);
    REQUIRE(made.exit_code == 0);
    std::string content = content_of(out);
    CHECK_FALSE(has(content, "<script>alert"));
    CHECK_FALSE(has(content, "<img"));
    CHECK(has(content, "&lt;/script&gt;&lt;script&gt;alert(1)"));
    CHECK(count_of(content, "<div class=\"still\"><svg class=\"chart\"") >= std::stoul(charts));
    if (!browser_is_here()) continue;
    content.insert(content.rfind("</body>"), plain_probe);
    for (const char* size : {"360,800", "1280,900"}) {
      const Browsed seen = browse(folder, folder.put("probed.html", content), size);
      INFO(size << seen.log);
      CHECK_FALSE(has(seen.log, "CONSOLE"));
      CHECK(attribute(seen.page, "data-charts") == charts);
      if (charts != "0") CHECK(std::stol(attribute(seen.page, "data-least-ink")) > 500);
      CHECK(attribute(seen.page, "data-pinched") == (charts == "0" ? "none" : "yes"));
      CHECK(attribute(seen.page, "data-wide") == "0");
    }
  }
}

}  // namespace bowrise
