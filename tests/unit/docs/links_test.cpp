// Every link of a page to another file of the project leads somewhere.
#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "tests/unit/docs/project.hpp"

namespace bellhole::docs {
namespace {

namespace fs = std::filesystem;

TEST(Links, LeadSomewhere) {
  const std::regex link("\\]\\(([^)#: ]+)(?:#[^)]*)?\\)");
  int looked_at = 0;
  std::vector<fs::path> pages = files({"docs", "tests/contract"}, ".md");
  for (const auto& entry : fs::directory_iterator(top()))
    if (entry.path().extension() == ".md") pages.push_back(entry.path());
  for (const auto& page : pages) {
    const std::string text = read(page);
    for (auto match = std::sregex_iterator(text.begin(), text.end(), link);
         match != std::sregex_iterator(); ++match) {
      ++looked_at;
      EXPECT_TRUE(fs::exists(page.parent_path() / match->str(1)))
          << page.lexically_relative(top()) << " links to " << match->str(1);
    }
  }
  EXPECT_GT(looked_at, 20);
}

}  // namespace
}  // namespace bellhole::docs
