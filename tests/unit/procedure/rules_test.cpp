#include "procedure/rules.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

namespace bellhole::procedure {
namespace {

std::string_view binds(const Rule& rule) {
  switch (rule.sense) {
    case Sense::most: return "at most";
    case Sense::least: return "at least";
    case Sense::set: break;
  }
  return "set";
}

std::string page() {
  std::string text =
      "# Rules that a profile sets\n\n"
      "The value of a rule stands in a row of a procedure profile (`docs/handbook/profiles.md`). *Binds* says which\n"
      "way: a company's row that is looser than the profile it extends needs a name, and law is never loosened.\n"
      "This page is written by the rules themselves (`BELLHOLE_WRITE_RULES=1 test_procedure`).\n\n"
      "| rule | its value | is a | binds | law |\n|---|---|---|---|---|\n";
  for (const Rule& rule : rules()) {
    text += "| `" + std::string(rule.id) + "` | " + std::string(rule.asks);
    if (!rule.words.empty()) text += ": one of `" + std::string(rule.words) + "`";
    text += " | " + std::string(to_string(rule.dimension)) + " | " + std::string(binds(rule)) + " | " + (rule.law ? "law" : "") + " |\n";
  }
  return text;
}

TEST(Rules, HaveEachTheirOwnIdAndSayWhatTheyAre) {
  std::set<std::string_view> ids;
  for (const Rule& rule : rules()) {
    EXPECT_TRUE(ids.insert(rule.id).second) << rule.id;
    EXPECT_FALSE(rule.asks.empty()) << rule.id;
    EXPECT_EQ(rule.dimension == Dimension::text, !rule.words.empty()) << rule.id;
    EXPECT_EQ(find_rule(rule.id), &rule);
  }
  EXPECT_EQ(find_rule("squeeze.nothing"), nullptr);
}

TEST(Rules, ThePageShowsThem) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/docs/rules.md";
  if (std::getenv("BELLHOLE_WRITE_RULES") != nullptr) std::ofstream(path) << page();
  std::stringstream now;
  now << std::ifstream(path).rdbuf();
  EXPECT_EQ(now.str(), page()) << "run test_procedure with BELLHOLE_WRITE_RULES=1 and look at the change";
}

TEST(Rules, AMisspeltIdNamesItsNeighbours) {
  EXPECT_NE(nearest_rules("squeeze.clearence").find("squeeze.clearance"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::procedure
