#include "tests/house/arrows.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace bellhole::house {
namespace {

namespace fs = std::filesystem;

bool is_source(const fs::path& path) {
  return path.extension() == ".cpp" || path.extension() == ".hpp";
}

std::string read(const fs::path& path) {
  std::stringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

TEST(Arrows, TheWholeHouseKeepsThem) {
  const fs::path top = BELLHOLE_SOURCE_DIR;
  int looked_at = 0;
  for (const char* folder :
       {"engine", "wire", "ask", "sheets", "store", "maps", "apps", "tests", "bench", "fuzz"}) {
    if (!fs::exists(top / folder)) continue;
    for (auto entry = fs::recursive_directory_iterator(top / folder); entry != fs::end(entry);
         ++entry) {
      if (entry->path().filename() == "node_modules") entry.disable_recursion_pending();
      if (!entry->is_regular_file() || !is_source(entry->path())) continue;
      ++looked_at;
      for (const auto& breach :
           breaches(fs::relative(entry->path(), top).generic_string(), read(entry->path())))
        ADD_FAILURE() << breach;
    }
  }
  EXPECT_GT(looked_at, 20);
}

std::string first_breach(std::string_view path, std::string_view text) {
  const auto found = breaches(path, text);
  return found.empty() ? "" : found.front();
}

TEST(Arrows, AnArrowUpwardsOrSidewaysIsABreach) {
  EXPECT_EQ(first_breach("engine/pipe/wall.cpp", "\n#include \"network/columns.hpp\"\n"),
            "engine/pipe/wall.cpp:2: pipe may not include network");
  EXPECT_NE(first_breach("engine/pipe/a.cpp", "#include \"gas/z.hpp\""), "");
  EXPECT_NE(first_breach("engine/squeeze/a.cpp", "#  include \"network/columns.hpp\""), "");
  EXPECT_NE(first_breach("engine/plan/a.cpp", "#include \"wire/json.hpp\""), "");
  EXPECT_NE(first_breach("sheets/a.cpp", "#include \"ask/ask.hpp\""), "");
  EXPECT_NE(first_breach("engine/plan/a.cpp", "#include \"engine/pipe/wall.hpp\""), "");
  EXPECT_NE(first_breach("engine/plan/a.cpp", "#include \"wall.hpp\""), "");
}

TEST(Arrows, AnArrowDownwardsIsNone) {
  EXPECT_EQ(first_breach("engine/plan/a.cpp",
                         "#include \"findings/finding.hpp\"\n#include \"plan/a.hpp\"\n"),
            "");
  EXPECT_EQ(first_breach("engine/isolate/a.cpp", "#include \"network/columns.hpp\""), "");
  EXPECT_EQ(first_breach("apps/cli/a.cpp", "#include \"ask/ask.hpp\""), "");
  EXPECT_EQ(first_breach("tests/unit/pipe/a.cpp", "#include \"plan/plan.hpp\""), "");
}

TEST(Arrows, LibrariesStayInTheirRooms) {
  EXPECT_EQ(first_breach("engine/plan/a.cpp", "#include <nlohmann/json.hpp>"),
            "engine/plan/a.cpp:1: nlohmann JSON does not belong in plan");
  EXPECT_EQ(first_breach("wire/a.cpp", "#include <nlohmann/json.hpp>"), "");
  EXPECT_NE(first_breach("wire/a.cpp", "#include <gdal_priv.h>"), "");
  EXPECT_NE(first_breach("ask/a.cpp", "#include <CLI/CLI.hpp>"), "");
}

TEST(Arrows, TheEngineIsPure) {
  EXPECT_EQ(first_breach("engine/gas/a.cpp", "#include <iostream>"),
            "engine/gas/a.cpp:1: the engine does without <iostream>");
  EXPECT_NE(first_breach("engine/gas/a.cpp", "auto t = std::chrono::steady_clock::now();"), "");
  EXPECT_EQ(first_breach("engine/gas/a.cpp", "void f() { throw 1; }"),
            "engine/gas/a.cpp:1: the engine has no 'throw'");
  EXPECT_EQ(first_breach("engine/gas/a.cpp",
                         "// throw\n/* catch\n try */ int retry; auto s = \"throw\"; int thrown;"),
            "");
  EXPECT_EQ(first_breach("apps/cli/a.cpp", "#include <chrono>\nvoid f() { throw 1; }"), "");
}

TEST(CodeOnly, BlanksWhatIsNotCode) {
  EXPECT_EQ(code_only("a // b\nc"), "a     \nc");
  EXPECT_EQ(code_only("f('\"') + 1"), "f(   ) + 1");
  EXPECT_EQ(code_only("1'000 + x"), "1'000 + x");
  EXPECT_EQ(code_only("R\"(a\")\" b"), "        b");
  EXPECT_EQ(code_only("\"a\\\"b\" c"), "       c");
  EXPECT_EQ(code_only("#include \"a/b.hpp\" // x"), "#include \"a/b.hpp\"     ");
}

}  // namespace
}  // namespace bellhole::house
