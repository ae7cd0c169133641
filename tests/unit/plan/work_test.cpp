#include "plan/work.hpp"

#include <gtest/gtest.h>

#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::Town;

Town cross() {
  Town town;
  const auto a = town.node("a", 0, 0), b = town.node("b", 200, 0), c = town.node("c", 200, 150);
  town.main("M1", a, b);
  town.main("M2", b, c);
  town.source("gate", a);
  return town;
}

network::Degrees degrees(double x, double y) { return {-20.0 + x / 90000.0, 36.0 + y / 111000.0}; }

TEST(WorkAt, FindsTheNearestMainAndItsStation) {
  const Town town = cross();
  const auto work = work_at(town.network, degrees(60, 3), Length::from_si(20));
  ASSERT_TRUE(work) << work.error().fix;
  EXPECT_EQ(work->pieces[0].pipe, 0);
  EXPECT_NEAR(work->pieces[0].begin.si(), 60.0, 0.01);
  EXPECT_NEAR(work->away.si(), 3.0, 0.01);
}

TEST(WorkAt, FarFromAnyMainIsTroubleThatNamesTheNearest) {
  const Town town = cross();
  const auto work = work_at(town.network, degrees(-300, 0), Length::from_si(20));
  ASSERT_FALSE(work);
  EXPECT_EQ(work.error().code, Code::work_not_found);
  EXPECT_NE(work.error().fix.find("M1"), std::string::npos);
  EXPECT_NE(work.error().fix.find("300 m"), std::string::npos) << work.error().fix;
}

TEST(WorkOnPipe, StationsMustBeOnTheMain) {
  const Town town = cross();
  EXPECT_TRUE(work_on_pipe(town.network, "M1", Length::from_si(200), Length::from_si(200)));
  EXPECT_EQ(
      work_on_pipe(town.network, "M1", Length::from_si(200.5), Length::from_si(200.5)).error().code,
      Code::out_of_range);
  EXPECT_EQ(work_on_pipe(town.network, "M1", Length::from_si(-1), Length::from_si(3)).error().code,
            Code::out_of_range);
  const auto unknown = work_on_pipe(town.network, "M3", Length(), Length());
  EXPECT_EQ(unknown.error().code, Code::unknown_element);
  EXPECT_NE(unknown.error().fix.find("M1"), std::string::npos);
}

TEST(WorkOnPipe, EquipmentIsRefusedByName) {
  Town town = cross();
  town.valve("V9", 0, 20);
  const auto work = work_on_pipe(town.network, "V9", Length(), Length());
  EXPECT_EQ(work.error().code, Code::work_on_equipment);
  EXPECT_EQ(work_at_node(town.network, "a").error().code, Code::work_on_equipment)
      << "the gate stands there";
}

TEST(WorkAtNode, TakesAllMainsThatMeet) {
  const Town town = cross();
  const auto work = work_at_node(town.network, "b");
  ASSERT_TRUE(work);
  EXPECT_EQ(work->pieces.size(), 2u);
  EXPECT_DOUBLE_EQ(work->pieces[0].begin.si(), 200.0);
  EXPECT_DOUBLE_EQ(work->pieces[1].begin.si(), 0.0);
}

TEST(WorkInside, TakesThePartsOfMainsInAPolygon) {
  const Town town = cross();
  const auto work = work_inside(
      town.network, {degrees(150, -20), degrees(220, -20), degrees(220, 30), degrees(150, 30)});
  ASSERT_TRUE(work);
  ASSERT_EQ(work->pieces.size(), 2u);
  EXPECT_NEAR(work->pieces[0].begin.si(), 150, 0.05);
  EXPECT_NEAR(work->pieces[0].end.si(), 200, 0.05);
  EXPECT_NEAR(work->pieces[1].end.si(), 30, 0.05);
  EXPECT_EQ(work->nodes.size(), 1u);
  EXPECT_EQ(
      work_inside(town.network, {degrees(0, 50), degrees(10, 50), degrees(10, 60)}).error().code,
      Code::work_not_found);
  EXPECT_EQ(work_inside(town.network, {degrees(0, 50)}).error().code, Code::out_of_range);
}

}  // namespace
}  // namespace bellhole::plan
