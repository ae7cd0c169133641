// docs/tour.md against the tree: every room is named, and every file that it names is there.
#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "tests/unit/docs/project.hpp"

namespace bellhole::docs {
namespace {

namespace fs = std::filesystem;

TEST(Tour, NamesEveryRoom) {
  const std::string text = read(top() / "docs/tour.md");
  int rooms = 0;
  for (const char* house : {"engine", "."}) {
    for (const auto& entry : fs::directory_iterator(top() / house)) {
      if (!entry.is_directory() || !fs::exists(entry.path() / "CMakeLists.txt")) continue;
      const std::string room = entry.path().lexically_relative(top()).lexically_normal().string();
      if (room == "build" || room == "engine") continue;
      ++rooms;
      EXPECT_NE(text.find("`" + room + "/"), std::string::npos)
          << room << " is not in docs/tour.md";
    }
  }
  EXPECT_GT(rooms, 12);
}

TEST(Tour, NamesNothingThatIsGone) {
  const std::string text = read(top() / "docs/tour.md");
  const std::regex path("`([a-zA-Z_.]+/[a-zA-Z0-9_./-]*|[a-zA-Z_]+\\.[a-z]+|dev)`");
  int looked_at = 0;
  for (auto match = std::sregex_iterator(text.begin(), text.end(), path);
       match != std::sregex_iterator(); ++match) {
    ++looked_at;
    EXPECT_TRUE(fs::exists(top() / match->str(1))) << match->str(1) << " is not in the tree";
  }
  EXPECT_GT(looked_at, 60);
}

}  // namespace
}  // namespace bellhole::docs
