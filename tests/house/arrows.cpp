#include "tests/house/arrows.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <optional>
#include <set>
#include <sstream>

namespace bellhole::house {
namespace {

using Names = std::set<std::string, std::less<>>;

const Names engine_rooms{"findings", "units",    "numerics", "procedure", "pipe",
                         "gas",      "linepack", "network",  "flatten",   "squeeze",
                         "isolate",  "restore",  "plan",     "job"};
const Names house_rooms{"wire", "ask",    "sheets", "store", "maps",
                        "apps", "tables", "tests",  "bench", "fuzz"};

/// What a room may include besides itself. Written out in full: an arrow is allowed because it
/// stands here.
const std::map<std::string, Names, std::less<>>& arrows() {
  static const std::map<std::string, Names, std::less<>> table = [] {
    std::map<std::string, Names, std::less<>> allowed;
    const auto room = [&](const std::string& name, const Names& needs) {
      Names all;
      for (const auto& need : needs) {
        all.insert(need);
        if (const auto below = allowed.find(need); below != allowed.end())
          all.insert(below->second.begin(), below->second.end());
      }
      allowed[name] = all;
    };
    room("findings", {});
    room("units", {"findings"});
    for (const char* name : {"numerics", "procedure", "pipe", "gas"}) room(name, {"units"});
    room("linepack", {"procedure", "gas"});
    room("network", {"numerics", "procedure", "pipe", "gas"});
    room("flatten", {"numerics", "procedure", "pipe", "gas"});
    room("tables", {"flatten"});
    room("squeeze", {"flatten"});
    room("isolate", {"squeeze", "network"});
    room("restore", {"squeeze", "network"});
    room("plan", {"isolate", "restore", "linepack"});
    room("job", {"plan"});
    room("wire", {"job"});
    for (const char* name : {"ask", "sheets", "store", "maps"}) room(name, {"wire"});
    room("apps", {"ask", "sheets", "store", "maps"});
    return allowed;
  }();
  return table;
}

/// A library's headers begin with `header`, and only `rooms` (and tests) may include them.
struct Library {
  std::string_view name, header;
  Names rooms;
};

const std::vector<Library>& libraries() {
  static const std::vector<Library> table{
      {"nlohmann JSON",
       "nlohmann/",
       {"wire", "ask", "sheets", "store", "maps", "apps", "fuzz", "bench"}},
      {"SQLite", "sqlite3", {"store"}},
      {"GDAL", "gdal", {"maps"}},
      {"GDAL", "ogr", {"maps"}},
      {"GDAL", "cpl_", {"maps"}},
      {"Cairo", "cairo", {"sheets"}},
      {"Pango", "pango/", {"sheets"}},
      {"CLI11", "CLI/", {"apps", "maps"}},
  };
  return table;
}

/// Standard headers that the engine does without: input and output, threads, the file system, and
/// what one of the two compilers does not have. <chrono> may serve as a calendar; its clocks are
/// words that are not allowed.
const Names not_in_engine{
    "iostream", "fstream",    "thread", "mutex", "future", "condition_variable", "ctime",
    "cstdio",   "filesystem", "format", "print", "mdspan", "stdexcept",          "exception"};
const Names words_not_in_engine{"throw",        "catch",        "try",
                                "system_clock", "steady_clock", "high_resolution_clock"};

/// The room of a path, or nothing where the rules do not reach.
std::optional<std::string> room_of(std::string_view path) {
  const bool in_engine = path.starts_with("engine/");
  if (in_engine) path.remove_prefix(7);
  const auto slash = path.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  const std::string first(path.substr(0, slash));
  if (in_engine ? engine_rooms.contains(first) : house_rooms.contains(first)) return first;
  return std::nullopt;
}

/// Rooms that watch the house from outside may include everything.
bool looks_on(std::string_view room) {
  return room == "tests" || room == "bench" || room == "fuzz";
}

struct Include {
  std::string_view target;
  bool quoted;
};

std::optional<Include> include_of(std::string_view line) {
  const auto skip = [&] {
    line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size()));
  };
  skip();
  if (!line.starts_with('#')) return std::nullopt;
  line.remove_prefix(1);
  skip();
  if (!line.starts_with("include")) return std::nullopt;
  line.remove_prefix(7);
  skip();
  if (line.empty() || (line[0] != '"' && line[0] != '<')) return std::nullopt;
  const auto end = line.find(line[0] == '"' ? '"' : '>', 1);
  if (end == std::string_view::npos) return std::nullopt;
  return Include{line.substr(1, end - 1), line[0] == '"'};
}

std::string include_breach(const std::string& room, const Include& include) {
  const std::string target(include.target);
  for (const auto& library : libraries()) {
    if (target.starts_with(library.header) && room != "tests" && !library.rooms.contains(room))
      return std::string(library.name) + " does not belong in " + room;
  }
  if (!include.quoted) {
    if (engine_rooms.contains(room) && not_in_engine.contains(target))
      return "the engine does without <" + target + ">";
    return {};
  }
  if (target.starts_with("engine/")) return "rooms of the engine are included as \"room/file.hpp\"";
  const std::string to = target.substr(0, target.find('/'));
  if (to == room || looks_on(room)) return {};
  if (!engine_rooms.contains(to) && !house_rooms.contains(to))
    return "\"" + target + "\" names no room: write \"room/file.hpp\"";
  if (!arrows().at(room).contains(to)) return room + " may not include " + to;
  return {};
}

/// The first forbidden word of a line of code, or empty.
std::string word_breach(std::string_view line) {
  std::string word;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    const char c = i < line.size() ? line[i] : ' ';
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_') {
      word += c;
      continue;
    }
    if (words_not_in_engine.contains(word)) return "the engine has no '" + word + "'";
    word.clear();
  }
  return {};
}

/// Finds where the comment or literal that starts at `begin` ends; `begin` where none starts there.
std::size_t skip_end(std::string_view text, std::size_t begin) {
  const auto after = [&](std::string_view mark, std::size_t from) {
    const auto found = text.find(mark, from);
    return found == std::string_view::npos ? text.size() : found + mark.size();
  };
  const std::string_view rest = text.substr(begin);
  if (rest.starts_with("//")) return std::min(text.find('\n', begin), text.size());
  if (rest.starts_with("/*")) return after("*/", begin + 2);
  if (rest.starts_with("R\"")) {
    const auto open = text.find('(', begin);
    if (open == std::string_view::npos) return text.size();
    return after(")" + std::string(text.substr(begin + 2, open - begin - 2)) + "\"", open);
  }
  const bool separator = rest[0] == '\'' && begin > 0 &&
                         std::isalnum(static_cast<unsigned char>(text[begin - 1])) != 0;
  if ((rest[0] != '"' && rest[0] != '\'') || separator) return begin;
  std::size_t i = begin + 1;
  while (i < text.size() && text[i] != rest[0] && text[i] != '\n') i += text[i] == '\\' ? 2 : 1;
  return std::min(i + 1, text.size());
}

bool on_include_line(std::string_view text, std::size_t at) {
  const auto start = text.rfind('\n', at);
  const auto begin = start == std::string_view::npos ? 0 : start + 1;
  const auto end = std::min(text.find('\n', at), text.size());
  return include_of(text.substr(begin, end - begin)).has_value();
}

}  // namespace

std::string code_only(std::string_view text) {
  std::string code(text);
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = skip_end(text, i);
    const bool path = text[i] == '"' && on_include_line(text, i);
    for (std::size_t k = i; k < end && !path; ++k)
      if (code[k] != '\n') code[k] = ' ';
    i = std::max(end, i + 1);
  }
  return code;
}

std::vector<Breach> breaches(std::string_view path, std::string_view text) {
  std::vector<Breach> found;
  const auto room = room_of(path);
  if (!room) return found;
  std::istringstream lines(code_only(text));
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number) {
    std::string says;
    if (const auto include = include_of(line)) {
      says = include_breach(*room, *include);
    } else if (engine_rooms.contains(*room)) {
      says = word_breach(line);
    }
    if (!says.empty())
      found.push_back(std::string(path) + ":" + std::to_string(number) + ": " + says);
  }
  return found;
}

}  // namespace bellhole::house
