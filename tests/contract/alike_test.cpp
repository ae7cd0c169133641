#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/contract/alike.hpp"

namespace bellhole::contract {
namespace {

using nlohmann::json;
using Found = std::vector<std::string>;

Found between(const char* wanted, const char* got) {
  return differences(json::parse(wanted), json::parse(got));
}

TEST(Alike, NumbersWithinTheToleranceAreAlike) {
  EXPECT_EQ(between(R"({"a": 1, "b": [1e5]})", R"({"a": 1.0, "b": [100000.00005]})"), Found{});
  EXPECT_EQ(between("[0]", "[1e-13]"), Found{});
}

TEST(Alike, EverythingElseIsNot) {
  EXPECT_EQ(between(R"({"a": {"b": 1}})", R"({"a": {"b": 1.00000001}})"),
            Found{"a.b: wanted 1, got 1.00000001"});
  EXPECT_EQ(between("[0]", "[1e-11]").size(), 1u);
  EXPECT_EQ(between(R"({"a": "x"})", R"({"a": "y"})"), Found{R"(a: wanted "x", got "y")"});
  EXPECT_EQ(between(R"({"a": null})", R"({"a": 0})"), Found{"a: wanted null, got 0"});
  EXPECT_EQ(between(R"({"a": 1})", "{}"), Found{"a: missing"});
  EXPECT_EQ(between("{}", R"({"a": 1})"), Found{"a: not wanted"});
  EXPECT_EQ(between("[1, 2]", "[1]"), Found{"document: wanted 2 entries, got 1"});
  EXPECT_EQ(between(R"(["a", "b"])", R"(["b", "a"])").size(), 2u);
}

}  // namespace
}  // namespace bellhole::contract
