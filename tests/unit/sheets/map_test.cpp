#include "sheets/map.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/map_labels.hpp"
#include "sheets/map_shapes.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

TEST(Map, SvgIsTheSameEveryTime) {
  const auto reply = test::sample_plan();
  const auto first = map_svg(reply, {}), second = map_svg(reply, {});
  ASSERT_TRUE(first) << first.error().where;
  EXPECT_TRUE(first->starts_with("<?xml"));
  EXPECT_TRUE(*first == *second);
  MapOptions other;
  other.plan = 1;
  EXPECT_TRUE(*first != *map_svg(reply, other));
}

TEST(Map, WithoutAMapIsTrouble) {
  auto reply = test::sample_plan();
  reply.erase("map");
  const auto svg = map_svg(reply, {});
  ASSERT_FALSE(svg);
  EXPECT_EQ(svg.error().where, "map");
}

TEST(Map, AnEmptyPlaceIsStillAMap) {
  auto reply = test::sample_plan();
  reply["plans"] = wire::Json::array();
  reply["map"]["lines"] = wire::Json::array();
  reply["map"]["points"] = wire::Json::array();
  EXPECT_TRUE(map_svg(reply, {}));
}

TEST(Map, IsolatedPartsLieBetweenTheirStations) {
  auto json = test::sample_plan();
  Faults faults;
  const MapShapes shapes = shapes_of(Reply(json, "", faults), 0);
  ASSERT_FALSE(faults.first());
  ASSERT_EQ(shapes.isolated.size(), 1u);
  EXPECT_NEAR(length_of(shapes.isolated[0].line), 118.5, 0.01);
  ASSERT_EQ(shapes.shutoffs.size(), 3u);
  // The part runs from squeeze A to squeeze B.
  EXPECT_NEAR(distance_to(shapes.isolated[0].line, shapes.shutoffs[0].at), 0, 0.1);
  EXPECT_NEAR(distance_to(shapes.isolated[0].line, shapes.shutoffs[1].at), 0, 0.1);
}

TEST(Map, ARecordedLengthStretchesStations) {
  auto json = test::sample_plan();
  for (auto& line : json["map"]["lines"]) {
    if (line["pipe"] == "M-5") line["length_m"] = 300.3;  // drawn about half as long
  }
  Faults faults;
  const MapShapes shapes = shapes_of(Reply(json, "", faults), 0);
  ASSERT_EQ(shapes.isolated.size(), 1u);
  EXPECT_NEAR(length_of(shapes.isolated[0].line), 118.5 * length_of(shapes.lines[4].line) / 300.3,
              0.01);
}

TEST(Map, OnlyWhoLosesGasInThisPlanIsMarked) {
  auto json = test::sample_plan();
  json["plans"][0]["customers_out"].erase(json["plans"][0]["customers_out"].size() -
                                          1);  // the clinic
  json["plans"][0]["must_not_lose_out"] = wire::Json::array();
  Faults faults;
  const auto count = [&](Sign sign) {
    const MapShapes shapes = shapes_of(Reply(json, "", faults), 0);
    return std::ranges::count(shapes.points, sign, &MapPoint::sign);
  };
  EXPECT_EQ(count(Sign::must_not_lose_out), 0);
  EXPECT_EQ(count(Sign::customer_out), 7);
}

TEST(Map, OnlyPlacesThatOffsetsAreMeasuredFromAreShown) {
  auto json = test::sample_plan();
  json["map"]["points"] = {
      {{"kind", "fixed_point"}, {"id", "H-31"}, {"x_m", 1.0}, {"y_m", 2.0}, {"says", "hydrant"}},
      {{"kind", "fixed_point"}, {"id", "H-3"}, {"x_m", 5.0}, {"y_m", 2.0}, {"says", "hydrant"}},
      {{"kind", "valve"}, {"id", "V-3"}, {"x_m", 5.0}, {"y_m", 2.0}, {"says", "open"}},
      {{"kind", "valve"}, {"id", "V-9"}, {"x_m", 5.0}, {"y_m", 2.0}, {"says", "closed"}}};
  Faults faults;
  const MapShapes shapes = shapes_of(Reply(json, "", faults), 0);
  ASSERT_EQ(shapes.points.size(), 2u);
  EXPECT_EQ(shapes.points[0].says, "hydrant H-31");
  EXPECT_EQ(shapes.points[1].says, "V-9 closed");  // V-3 is shut-off C and has its own sign
}

TEST(Map, LineWeightGrowsWithSize) {
  EXPECT_LT(weight_for("IPS 2"), weight_for("IPS 4"));
  EXPECT_LT(weight_for("IPS 4"), weight_for("IPS 8"));
  EXPECT_EQ(weight_for("dn 110"), weight_for("IPS 4"));
  EXPECT_EQ(weight_for(""), weight_for("CTS 1"));
}

TEST(Polyline, PartsAndPlaces) {
  const Polyline line{{0, 0}, {10, 0}, {10, 10}};
  EXPECT_DOUBLE_EQ(length_of(line), 20);
  const Polyline middle = part(line, 5, 15);
  ASSERT_EQ(middle.size(), 3u);
  EXPECT_DOUBLE_EQ(length_of(middle), 10);
  EXPECT_DOUBLE_EQ(along(line, 15).at.y, 5);
  EXPECT_DOUBLE_EQ(along(line, 15).direction.y, 1);
  EXPECT_DOUBLE_EQ(nearest(line, {12, 5}), 15);
  EXPECT_DOUBLE_EQ(distance_to(line, {12, 5}), 2);
  EXPECT_TRUE(part(line, 30, 40).empty());
  const auto run = straight_run(line, {-5, -5, 10, 10});
  EXPECT_DOUBLE_EQ(run.second.x - run.first.x, 5);
}

TEST(Labels, NoNameLiesOnAnotherOrOutsideTheFrame) {
  EXPECT_TRUE(rc::check("names at random places", [] {
    const Box frame{0, 0, 300, 200};
    Labels labels(frame);
    std::vector<Box> placed;
    const auto n = *rc::gen::inRange(1, 40);
    for (int i = 0; i < n; ++i) {
      const Point at{*rc::gen::inRange(0, 300) * 1.0, *rc::gen::inRange(0, 200) * 1.0};
      const double w = *rc::gen::inRange(10, 90), h = 11;
      const auto place = labels.beside(at, 8, w, h, true);
      if (!place) continue;
      const Box box{place->x - w / 2, place->y - h / 2, w, h};
      RC_ASSERT(box.x >= frame.x && box.right() <= frame.right());
      RC_ASSERT(box.y >= frame.y && box.bottom() <= frame.bottom());
      for (const Box& other : placed) RC_ASSERT(!box.overlaps(other));
      placed.push_back(box);
    }
  }));
}

TEST(Labels, ANameThatMustStandIsPlacedInTheFrame) {
  Labels labels({0, 0, 40, 40});
  labels.occupy({0, 0, 40, 40});
  EXPECT_FALSE(labels.beside({20, 20}, 5, 10, 10, true));
  const auto place = labels.beside({39, 39}, 5, 10, 10, false);
  ASSERT_TRUE(place);
  EXPECT_LE(place->x + 5, 40);
  EXPECT_LE(place->y + 5, 40);
}

}  // namespace
}  // namespace bellhole::sheets
