// What a job left in the ground, read back by GDAL from outside.
#include <gdal.h>
#include <gtest/gtest.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

namespace bellhole::maps {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

class JobMap : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("bellhole-job-map-" + std::to_string(::getpid()));
    fs::create_directories(folder_);
    std::ifstream file(std::string(BELLHOLE_SOURCE_DIR) +
                       "/tests/contract/job-state/quay_street.json");
    std::ofstream(folder_ / "state.json") << json::parse(file).at("reply").dump();
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const char* name) const { return folder_ / name; }
  [[nodiscard]] int exported(const char* name) const {
    const std::string command = std::string(BELLHOLE_MAPS) + " export " + path("state.json") +
                                " --out " + path(name) + " 2>/dev/null";
    const int status = std::system(command.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  fs::path folder_;
};

TEST_F(JobMap, AGeoPackageIsReadBackByGdal) {
  ASSERT_EQ(exported("laid.gpkg"), 0);
  GDALAllRegister();
  GDALDatasetH map = GDALOpenEx(path("laid.gpkg").c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY,
                                nullptr, nullptr, nullptr);
  ASSERT_NE(map, nullptr);
  OGRLayerH laid = GDALDatasetGetLayerByName(map, "laid");
  ASSERT_NE(laid, nullptr);
  EXPECT_EQ(OGR_L_GetFeatureCount(laid, 1), 2);
  EXPECT_STREQ(OSRGetAuthorityCode(OGR_L_GetSpatialRef(laid), nullptr), "4326");
  OGRFeatureH first = OGR_L_GetNextFeature(laid);
  OGRGeometryH point = OGR_F_GetGeometryRef(first);
  EXPECT_NEAR(OGR_G_GetX(point, 0), -19.9971, 1e-9) << "longitude first";
  EXPECT_NEAR(OGR_G_GetY(point, 0), 36.0016, 1e-9);
  EXPECT_STREQ(OGR_F_GetFieldAsString(first, OGR_F_GetFieldIndex(first, "what")), "squeeze");
  EXPECT_NEAR(OGR_F_GetFieldAsDouble(first, OGR_F_GetFieldIndex(first, "station_m")), 210 * 0.3048,
              1e-9);
  OGR_F_Destroy(first);
  EXPECT_NE(GDALDatasetGetLayerByName(map, "act"), nullptr);
  GDALClose(map);
  std::ifstream one(path("laid.gpkg"), std::ios::binary);
  const std::string before{std::istreambuf_iterator<char>(one), {}};
  ASSERT_EQ(exported("again.gpkg"), 0);
  std::ifstream two(path("again.gpkg"), std::ios::binary);
  const std::string again{std::istreambuf_iterator<char>(two), {}};
  EXPECT_EQ(before, again) << "the same bytes again";
}

TEST_F(JobMap, GeoJsonIsInDegreesWithoutASystemOfItsOwn) {
  ASSERT_EQ(exported("laid.geojson"), 0);
  std::ifstream file(path("laid.geojson"));
  const json map = json::parse(file);
  EXPECT_EQ(map.at("type"), "FeatureCollection");  // RFC 7946, 3.3
  EXPECT_FALSE(map.contains("crs"));               // RFC 7946, 4
  int points = 0;
  for (const json& feature : map.at("features")) {
    if (feature.at("geometry").is_null()) continue;  // RFC 7946, 3.2: a feature without a place
    ++points;
    EXPECT_EQ(feature.at("geometry").at("type"), "Point");
    EXPECT_NEAR(feature.at("geometry").at("coordinates").at(0).get<double>(), -20.0, 0.01);
  }
  EXPECT_EQ(points, 2);
}

TEST_F(JobMap, AnotherReplyIsRefused) {
  std::ofstream(folder_ / "state.json") << R"({"question": "job-state"})";
  EXPECT_EQ(exported("laid.gpkg"), 2);
}

}  // namespace
}  // namespace bellhole::maps
