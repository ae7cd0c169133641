#include "procedure/rules.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace bellhole::procedure {
namespace {

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

TEST(Rules, AMisspeltIdNamesItsNeighbours) {
  EXPECT_NE(nearest_rules("squeeze.clearence").find("squeeze.clearance"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::procedure
