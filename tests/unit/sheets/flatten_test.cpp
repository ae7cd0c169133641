// Pictures of a computed squeeze, from a reply of one brick written by hand.
#include "sheets/flatten_picture.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace bellhole::sheets {
namespace {

using wire::Json;

Json one_brick() {
  Json nodes = Json::array(), moved = Json::array();
  for (int n = 0; n < 8; ++n) {
    nodes.push_back({0.1 * (n & 1), 0.1 * (n >> 1 & 1), 0.1 * (n >> 2 & 1)});
    moved.push_back({0.1 * (n & 1), 0.05 * (n >> 1 & 1), 0.1 * (n >> 2 & 1)});
  }
  const Json quarter = {{0.13, 0.0}, {0.12, 0.02}, {0.0, 0.02}};
  const Json outline = {{"inner_m", quarter}, {"outer_m", quarter}};
  return {{"od_m", 0.2},
          {"wall_m", 0.02},
          {"width_m", 0.26},
          {"at_least_gap", outline},
          {"at_end", outline},
          {"opened", true},
          {"mesh",
           {{"nodes_m", nodes},
            {"bricks", {{0, 1, 2, 3, 4, 5, 6, 7}}},
            {"at_least_gap_m", moved},
            {"at_end_m", nodes}}}};
}

TEST(FlattenPicture, DrawsTheSectionBeforeAtTheStopsAndAtTheEnd) {
  const auto svg = flatten_svg(one_brick());
  ASSERT_TRUE(svg);
  EXPECT_EQ(svg->rfind("<?xml", 0), 0U);
  EXPECT_NE(svg->find("<svg"), std::string::npos);
  const auto lines = [](const std::string& text) {
    std::size_t n = 0;
    for (auto at = text.find("<path"); at != std::string::npos; at = text.find("<path", at + 1))
      ++n;
    return n;
  };
  Json closed = one_brick();
  closed["opened"] = false;
  EXPECT_GE(lines(*svg), 6U) << "two lines each";
  EXPECT_LT(lines(*flatten_svg(closed)), lines(*svg)) << "a pipe that was not opened has no end";
}

TEST(FlattenPicture, RefusesAReplyWithoutASection) {
  Json bare = one_brick();
  bare.erase("at_end");
  const auto picture = flatten_svg(bare);
  ASSERT_FALSE(picture);
  EXPECT_EQ(picture.error().where, "at_least_gap");
}

TEST(FlattenSolid, HasEveryBrickRoundItsFacesAndTheWayOfEachNode) {
  const auto vtk = flatten_vtk(one_brick());
  ASSERT_TRUE(vtk);
  EXPECT_NE(vtk->find("POINTS 8 double\n0 0 0\n0.1 0 0\n"), std::string::npos);
  EXPECT_NE(vtk->find("CELLS 1 9\n8 0 1 3 2 4 5 7 6\nCELL_TYPES 1\n12\n"), std::string::npos)
      << "VTK's hexahedron goes round";
  EXPECT_NE(vtk->find("VECTORS to_the_stops double\n0 0 0\n0 0 0\n0 -0.05 0\n"), std::string::npos);
  EXPECT_NE(vtk->find("VECTORS to_the_end double\n0 0 0\n"), std::string::npos);
}

TEST(FlattenSolid, WantsTheMesh) {
  Json bare = one_brick();
  bare["mesh"] = nullptr;
  const auto vtk = flatten_vtk(bare);
  ASSERT_FALSE(vtk);
  EXPECT_EQ(vtk.error().code, Code::missing_value);
}

}  // namespace
}  // namespace bellhole::sheets
