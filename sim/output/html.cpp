#include "sim/output/html.hpp"

#include <stdexcept>

namespace bowrise {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    }
  }
  return out;
}

std::string html_table(std::string_view caption, const HtmlLines& lines) {
  std::string out =
      "<div class=\"scroll\" tabindex=\"0\"><table><caption>" + escaped(caption) + "</caption>\n";
  for (std::size_t i = 0; i < lines.size(); ++i) {
    out += i == 0 ? "<thead><tr>" : "<tr>";
    for (std::size_t j = 0; j < lines[i].size(); ++j) {
      const HtmlCell& cell = lines[i][j];
      const bool heading = i == 0 || j == 0;
      out += heading ? (i == 0 ? "<th scope=\"col\"" : "<th scope=\"row\"") : "<td";
      if (!cell.css_class.empty()) out += " class=\"" + cell.css_class + "\"";
      out += ">" + cell.html + (heading ? "</th>" : "</td>");
    }
    out += i == 0 ? "</tr></thead>\n<tbody>\n" : "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

std::string html_list(const std::vector<std::string>& texts) {
  std::string out = "<ul>\n";
  for (const std::string& text : texts) out += "<li>" + escaped(text) + "</li>\n";
  return out + "</ul>\n";
}

std::string filled(std::string_view page, const std::map<std::string, std::string, std::less<>>& texts) {
  std::string out;
  for (;;) {
    const auto open = page.find("[[");
    out += page.substr(0, open);
    if (open == std::string_view::npos) return out;
    const auto close = page.find("]]", open);
    const std::string_view name = page.substr(open + 2, close - open - 2);
    const auto text = texts.find(name);
    if (text == texts.end())
      throw std::logic_error("the page asks for an unknown text: " + std::string(name));
    out += text->second;
    page.remove_prefix(close + 2);
  }
}

}  // namespace bowrise
