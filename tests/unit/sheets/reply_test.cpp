#include "sheets/reply.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace bellhole::sheets {
namespace {

TEST(Reply, MissingAndNullReadAsNothing) {
  const wire::Json json = {{"a", nullptr}};
  Faults faults;
  const Reply reply(json, "", faults);
  EXPECT_EQ(reply.text("a"), "");
  EXPECT_FALSE(reply.number("b"));
  EXPECT_FALSE(reply.at("b").at("c").flag("d"));
  EXPECT_TRUE(reply.list("a").empty());
  EXPECT_TRUE(reply.pairs("a").empty());
  EXPECT_FALSE(faults.first());
}

TEST(Reply, AnotherKindIsTroubleThatNamesThePath) {
  const wire::Json json = {{"pipe", {{"od_m", "8in"}}}, {"findings", {1}}};
  Faults faults;
  const Reply reply(json, "", faults);
  EXPECT_FALSE(reply.at("pipe").number("od_m"));
  EXPECT_TRUE(reply.list("findings").empty());
  ASSERT_TRUE(faults.first());
  EXPECT_EQ(faults.first()->code, Code::unreadable_document);
  EXPECT_EQ(faults.first()->where, "pipe.od_m");  // the first one is kept
  EXPECT_EQ(faults.first()->value, "\"8in\"");
}

TEST(Reply, WhatIsNeededAndMissingIsTrouble) {
  const wire::Json json = wire::Json::object();
  Faults faults;
  const Reply reply(json, "", faults);
  static_cast<void>(reply.need_text("verdict"));
  ASSERT_TRUE(faults.first());
  EXPECT_EQ(faults.first()->where, "verdict");
  EXPECT_EQ(faults.first()->value, "missing");
}

TEST(Reply, ListsAndPairsOfNumbersAreReadWhole) {
  const wire::Json json = {{"windows_m", {{1.0, 2.0}, {3.0, 4.5}}}, {"bad_m", {{1.0}, {2.0, "x"}}}};
  Faults faults;
  const Reply reply(json, "", faults);
  const auto windows = reply.pairs("windows_m");
  ASSERT_EQ(windows.size(), 2u);
  EXPECT_EQ(windows[1].second, 4.5);
  EXPECT_FALSE(faults.first());
  EXPECT_TRUE(reply.pairs("bad_m").empty());
  EXPECT_TRUE(faults.first());
}

}  // namespace
}  // namespace bellhole::sheets
