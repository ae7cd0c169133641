#include "plan/kit.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <numeric>

namespace bellhole::plan {
namespace {

procedure::Profile profile_of(const char* pumps = nullptr) {
  procedure::ProfileDraft draft;
  draft.id = "test";
  if (pumps != nullptr) {
    procedure::RowDraft row;
    row.rule = "kit.pumps";
    row.value = std::string(pumps);
    row.grade = Grade::info;
    row.source = "invented for a test";
    row.evidence = Evidence::company;
    draft.rows.push_back(row);
  }
  return *procedure::compose(draft, nullptr);
}

squeeze::Tool tool(const char* id, std::optional<std::int64_t> owned,
                   squeeze::Drive drive = squeeze::Drive::screw) {
  squeeze::Tool t{.id = id, .drive = drive};
  t.stock = {owned, owned};
  return t;
}

Need need(const char* letter, int least, int most, std::vector<std::size_t> tools) {
  Need n{.shutoff = letter, .least = least, .most = most};
  for (const std::size_t t : tools) n.suits.push_back({t, "S", {9, 9}});
  return n;
}

KitAnswer count(const std::vector<Need>& needs, const squeeze::Kit& kit,
                const char* pumps = nullptr) {
  return kit_of(needs, &kit, profile_of(pumps), {}, units::System::us);
}

bool has(const KitAnswer& answer, std::string_view rule, Grade grade) {
  return std::ranges::any_of(answer.findings,
                             [&](const Finding& f) { return f.rule == rule && f.grade == grade; });
}

TEST(Kit, FourToolsNeededAndTwoOwnedIsAHalt) {
  const squeeze::Kit kit{.tools = {tool("T", 2)}};
  const auto answer = count({need("A", 2, 2, {0}), need("B", 2, 2, {0})}, kit);
  EXPECT_EQ(answer.tools_needed, 4);
  EXPECT_EQ(answer.tools_owned, 2);
  EXPECT_TRUE(has(answer, "kit.tools", Grade::halt));
}

TEST(Kit, EnoughIsNotMentioned) {
  const squeeze::Kit kit{.tools = {tool("T", 4)}};
  const auto answer = count({need("A", 2, 2, {0}), need("B", 2, 2, {0})}, kit);
  EXPECT_TRUE(answer.findings.empty());
  ASSERT_EQ(answer.rows.size(), 2u);
  EXPECT_EQ(answer.rows[0].needed, 4);
}

TEST(Kit, UndecidedSqueezesNeedTwoToFourAndThreeAreUndecided) {
  const squeeze::Kit kit{.tools = {tool("T", 3)}};
  const auto answer = count({need("A", 1, 2, {0}), need("B", 1, 2, {0})}, kit);
  EXPECT_EQ(answer.tools_needed, 4);
  EXPECT_EQ(answer.tools_needed_least, 2);
  EXPECT_TRUE(has(answer, "kit.tools", Grade::undecided));
  EXPECT_FALSE(has(answer, "kit.tools", Grade::halt));
}

TEST(Kit, TwoToolsListedOneByOneServeTwoSqueezes) {
  const squeeze::Kit kit{.tools = {tool("T-1", 1), tool("T-2", 1)}};
  const auto answer = count({need("A", 1, 1, {0, 1}), need("B", 1, 1, {0})}, kit);
  EXPECT_TRUE(answer.findings.empty()) << "B takes T-1, A gives way to T-2";
  EXPECT_EQ(answer.tools[0], std::vector<std::size_t>{1});
  EXPECT_EQ(answer.tools[1], std::vector<std::size_t>{0});
}

TEST(Kit, WhatNobodyCountedIsUndecided) {
  const squeeze::Kit kit{.tools = {tool("T", std::nullopt)}};
  const auto answer = count({need("A", 1, 1, {0})}, kit);
  EXPECT_FALSE(answer.tools_owned);
  EXPECT_TRUE(has(answer, "kit.tools", Grade::undecided));
  EXPECT_TRUE(has(answer, "kit.truck", Grade::undecided));
  const auto none = kit_of({need("A", 1, 1, {})}, nullptr, profile_of(), {}, units::System::us);
  EXPECT_TRUE(has(none, "kit.tools", Grade::undecided));
  EXPECT_EQ(none.tools_needed, 1);
}

TEST(Kit, AShortTruckIsAWarning) {
  squeeze::Kit kit{.tools = {tool("T", 2)}};
  kit.tools[0].stock.on_truck = 1;
  EXPECT_TRUE(has(count({need("A", 2, 2, {0})}, kit), "kit.truck", Grade::warn));
}

TEST(Kit, StopsAreCountedBySets) {
  const squeeze::Kit kit{.tools = {tool("T", 2)}};
  Need needs = need("A", 2, 2, {0});
  needs.suits[0].stops = {1, 1};
  EXPECT_TRUE(has(count({needs}, kit), "kit.stops", Grade::halt));
  needs.suits[0].stops = {};
  EXPECT_TRUE(has(count({needs}, kit), "kit.stops", Grade::undecided));
}

TEST(Kit, PumpsByTheRuleOfTheCompany) {
  using squeeze::Drive;
  squeeze::Kit kit{.tools = {tool("T", 2, Drive::hydraulic)},
                   .pumps = {{.id = "P", .title = "", .tools = {}, .stock = {1, 1}}}};
  const std::vector<Need> two{need("A", 2, 2, {0})};
  EXPECT_TRUE(has(count(two, kit, "each_tool"), "kit.pumps", Grade::halt));
  EXPECT_TRUE(count(two, kit, "each_hole").findings.empty());
  EXPECT_TRUE(has(count(two, kit), "kit.pumps", Grade::undecided)) << "no rule: decide";
  kit.pumps.clear();
  EXPECT_TRUE(has(count(two, kit, "each_hole"), "kit.pumps", Grade::undecided));
  kit.tools[0].drive = Drive::screw;
  EXPECT_TRUE(count(two, kit).findings.empty()) << "a screw needs no pump";
}

/// Greatest number of units that can be served, by trying every choice.
std::size_t most_served(const std::vector<std::vector<std::size_t>>& suits,
                        std::vector<std::int64_t> capacity, std::size_t unit = 0) {
  if (unit == suits.size()) return 0;
  std::size_t best = most_served(suits, capacity, unit + 1);
  for (const std::size_t kind : suits[unit]) {
    if (capacity[kind] == 0) continue;
    --capacity[kind];
    best = std::max(best, 1 + most_served(suits, capacity, unit + 1));
    ++capacity[kind];
  }
  return best;
}

RC_GTEST_PROP(Kit, TheMatchingServesAsManyAsCanBe, ()) {
  const auto kinds = *rc::gen::inRange<std::size_t>(1, 4);
  std::vector<std::int64_t> capacity;
  for (std::size_t k = 0; k < kinds; ++k) capacity.push_back(*rc::gen::inRange(0, 3));
  std::vector<std::vector<std::size_t>> suits(*rc::gen::inRange<std::size_t>(0, 6));
  for (auto& list : suits) {
    for (std::size_t k = 0; k < kinds; ++k)
      if (*rc::gen::arbitrary<bool>()) list.push_back(k);
  }
  const auto got = matched(suits, capacity);
  std::vector<std::int64_t> used(kinds, 0);
  std::size_t served = 0;
  for (std::size_t u = 0; u < got.size(); ++u) {
    if (!got[u]) continue;
    ++served;
    ++used[*got[u]];
    RC_ASSERT(std::ranges::find(suits[u], *got[u]) != suits[u].end());
  }
  for (std::size_t k = 0; k < kinds; ++k) RC_ASSERT(used[k] <= capacity[k]);
  RC_ASSERT(served == most_served(suits, capacity));
}

}  // namespace
}  // namespace bellhole::plan
