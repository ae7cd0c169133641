#include "tests/unit/sheets/support.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <regex>
#include <sstream>

namespace bellhole::sheets::test {
namespace {

wire::Json read(const std::string& name) {
  std::ifstream file(std::string(BELLHOLE_SOURCE_DIR) + "/tests/unit/sheets/data/" + name);
  return wire::Json::parse(file);
}

/// Runs pdftotext over the bytes with these options.
std::optional<std::string> pdftotext(const std::string& pdf, const std::string& options) {
  static const bool installed = std::system("command -v pdftotext >/dev/null 2>&1") == 0;
  if (!installed) return std::nullopt;
  std::string path = (std::filesystem::temp_directory_path() / "bellhole-sheet-XXXXXX").string();
  const int handle = mkstemp(path.data());
  if (handle < 0) return std::nullopt;
  close(handle);
  std::ofstream(path, std::ios::binary) << pdf;
  std::string out;
  struct Close {
    void operator()(FILE* pipe) const { pclose(pipe); }
  };
  {
    const std::unique_ptr<FILE, Close> pipe(
        popen(("pdftotext " + options + " " + path + " -").c_str(), "r"));
    std::array<char, 4096> part;
    while (pipe) {
      const std::size_t n = std::fread(part.data(), 1, part.size(), pipe.get());
      if (n == 0) break;
      out.append(part.data(), n);
    }
  }
  std::filesystem::remove(path);
  return out;
}

void collect(const wire::Json& json, const std::string& at, std::vector<std::string>& all) {
  if (!at.empty()) all.push_back(at);
  if (json.is_object()) {
    for (const auto& [key, value] : json.items()) collect(value, at + "/" + key, all);
  } else if (json.is_array()) {
    for (std::size_t i = 0; i < std::min<std::size_t>(json.size(), 2); ++i)
      collect(json[i], fmt::format("{}/{}", at, i), all);
  }
}

}  // namespace

wire::Json sample_squeeze() { return read("squeeze.json"); }

wire::Json sample_plan() {
  wire::Json plan = read("plan.json");
  for (auto& shutoff : plan["plans"][0]["shutoffs"]) {
    if (shutoff["kind"] == "squeeze") shutoff["squeeze"] = sample_squeeze();
  }
  return plan;
}

std::size_t pages_of(const std::string& pdf) {
  static const std::regex page("/Type /Page[^s]");
  return static_cast<std::size_t>(
      std::distance(std::sregex_iterator(pdf.begin(), pdf.end(), page), std::sregex_iterator()));
}

std::optional<std::string> text_of(const std::string& pdf) {
  const auto raw = pdftotext(pdf, "-raw");
  if (!raw) return std::nullopt;
  std::istringstream in(*raw);
  std::string all, word;
  while (in >> word) all += (all.empty() ? "" : " ") + word;
  return all;
}

std::optional<std::vector<Word>> words_of(const std::string& pdf) {
  const auto boxes = pdftotext(pdf, "-bbox");
  if (!boxes) return std::nullopt;
  static const std::regex word(
      "<word xMin=\"([^\"]+)\" yMin=\"([^\"]+)\" xMax=\"([^\"]+)\" "
      "yMax=\"([^\"]+)\">([^<]*)</word>");
  std::vector<Word> all;
  std::size_t page = 0;
  std::istringstream in(*boxes);
  std::string line;
  while (std::getline(in, line)) {
    if (line.find("<page ") != std::string::npos) ++page;
    std::smatch found;
    if (!std::regex_search(line, found, word)) continue;
    all.push_back({page, std::stod(found[1]), std::stod(found[2]), std::stod(found[3]),
                   std::stod(found[4]), found[5]});
  }
  return all;
}

std::string crowding(const std::vector<Word>& words, double paper_w, double paper_h) {
  constexpr double margin = 15;
  std::string wrong;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const Word& a = words[i];
    if (a.x0 < margin || a.x1 > paper_w - margin || a.y0 < margin || a.y1 > paper_h - margin)
      wrong += fmt::format("page {}: '{}' leaves the paper\n", a.page, a.says);
    for (std::size_t j = i + 1; j < words.size() && words[j].page == a.page; ++j) {
      const Word& b = words[j];
      // A box reaches from ascender to descender; ink touches ink only well inside it.
      const double trim = 0.22 * std::min(a.y1 - a.y0, b.y1 - b.y0);
      const bool apart = a.x1 - 0.5 <= b.x0 || b.x1 - 0.5 <= a.x0 || a.y1 - trim <= b.y0 + trim ||
                         b.y1 - trim <= a.y0 + trim;
      if (!apart) wrong += fmt::format("page {}: '{}' lies on '{}'\n", a.page, a.says, b.says);
    }
  }
  return wrong;
}

std::vector<std::string> pointers_in(const wire::Json& json) {
  std::vector<std::string> all;
  collect(json, "", all);
  return all;
}

}  // namespace bellhole::sheets::test
