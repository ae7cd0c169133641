#include "maps/source.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "maps/import.hpp"
#include "maps/write.hpp"

namespace bellhole::maps {
namespace {

namespace fs = std::filesystem;

class MapSource : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("bellhole-source-" + std::to_string(::getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  std::string write(const std::string& name, const std::string& text) {
    std::ofstream(folder_ / name) << text;
    return (folder_ / name).string();
  }
  std::string mapping(const std::string& head, const std::string& mains) {
    return write(
        "m.json",
        "{\"document\": \"bellhole.mapping\", \"version\": 1, \"map_date\": \"2026-01-01\", " +
            head +
            "\"snap_tolerance\": \"0.5m\", \"tiers\": [{\"id\": \"t\", \"maop\": \"45psig\"}], "
            "\"layers\": {\"mains\": [" +
            mains + "]}}");
  }
  fs::path folder_;
};

// Two mains end to end, a tenth of a degree of arc apart from nothing: in degrees, with a bool, a
// date and a null.
const char* const two_mains = R"({"type": "FeatureCollection", "name": "main", "features": [
{"type": "Feature", "properties": {"ID": "A", "LIVE": true, "LAID": "1999-05-04", "NOTE": " spaced ", "N": 3, "R": 0.1},
 "geometry": {"type": "LineString", "coordinates": [[-39.000, 46.200], [-38.999, 46.200]]}},
{"type": "Feature", "properties": {"ID": "B", "LIVE": false, "LAID": null, "NOTE": "", "N": null, "R": null},
 "geometry": {"type": "LineString", "coordinates": [[-38.999, 46.200], [-38.998, 46.2005]]}}]})";

TEST_F(MapSource, ReadsColumnsAsTheyStand) {
  auto source = Source::open(write("m.geojson", two_mains));
  ASSERT_TRUE(source);
  ASSERT_EQ(source->layers(), std::vector<std::string>{"main"});
  const auto projection = Projection::of("EPSG:32624", -39.0, 46.2);
  ASSERT_TRUE(projection);
  const auto layer = source->read("main", "", *projection, "x");
  ASSERT_TRUE(layer) << layer.error().fix;
  EXPECT_TRUE(layer->projected_here);
  const auto cell = [&](std::size_t row, const char* column) {
    return layer->features[row].cells[*layer->column(column)];
  };
  EXPECT_EQ(cell(0, "LIVE"), "true");
  EXPECT_EQ(cell(0, "LAID"), "1999-05-04");
  EXPECT_EQ(cell(0, "NOTE"), "spaced");
  EXPECT_EQ(cell(0, "N"), "3");
  EXPECT_EQ(cell(0, "R"), "0.1");
  for (const char* blank : {"LAID", "NOTE", "N", "R"}) EXPECT_FALSE(cell(1, blank)) << blank;
  // The zone's central meridian is 500 km east of its false origin.
  EXPECT_NEAR(layer->features[0].parts[0][0].x, 500000.0, 1e-3);
}

TEST_F(MapSource, DegreesComeBack) {
  const auto projection = Projection::of("EPSG:32624", -39.0, 46.2);
  ASSERT_TRUE(projection);
  auto source = Source::open(write("m.geojson", two_mains));
  ASSERT_TRUE(source);
  auto layer = source->read("main", "", *projection, "x");
  ASSERT_TRUE(layer);
  auto line = layer->features[1].parts[0];
  ASSERT_TRUE(projection->to_degrees(line));
  EXPECT_NEAR(line[1].x, -38.998, 2e-9);
  EXPECT_NEAR(line[1].y, 46.2005, 2e-9);
}

TEST_F(MapSource, AnUnreadableFileIsTrouble) {
  for (const std::string& path :
       {std::string("/nowhere.gpkg"), write("text.gpkg", "this is no map"),
        write("empty.geojson", "")}) {
    const auto source = Source::open(path);
    ASSERT_FALSE(source) << path;
    EXPECT_EQ(source.error().code, Code::unreadable_file);
  }
}

TEST_F(MapSource, AMissingLayerNamesThoseThatAreThere) {
  const auto imported = import_map({write("m.geojson", two_mains),
                                    mapping("", R"({"layer": "mian", "fields": {"id": "ID"}})"),
                                    {}});
  ASSERT_FALSE(imported);
  EXPECT_EQ(imported.error().code, Code::bad_mapping);
  EXPECT_EQ(imported.error().where, "m.json: layers.mains[0].layer");
  EXPECT_NE(imported.error().fix.find("it has: main"), std::string::npos);
}

TEST_F(MapSource, ASystemThatStretchesLengthsIsRefused) {
  const auto imported = import_map(
      {write("m.geojson", two_mains),
       mapping("\"crs\": \"EPSG:3857\", ", R"({"layer": "main", "fields": {"id": "ID"}})"),
       {}});
  ASSERT_FALSE(imported);
  EXPECT_EQ(imported.error().where, "m.json: crs");
  EXPECT_NE(imported.error().fix.find("changes lengths by 44"), std::string::npos)
      << imported.error().fix << " (1 / cos 46.2 = 1.445)";
  for (const char* bad : {"EPSG:4326", "EPSG:99999", "metres"})
    EXPECT_FALSE(Projection::of(bad, -39.0, 46.2)) << bad;
}

TEST_F(MapSource, WithoutASystemTheZoneIsChosenAndSaid) {
  const auto imported = import_map({write("m.geojson", two_mains),
                                    mapping("", R"({"layer": "main", "fields": {"id": "ID"}})"),
                                    {}});
  ASSERT_TRUE(imported) << imported.error().where << imported.error().fix;
  EXPECT_EQ(imported->network.crs, "EPSG:32624");
  EXPECT_EQ(imported->report.count("import.crs_chosen"), 1u);
  // A thousandth of a degree of longitude at 46.2 N on WGS 84: N cos(lat) x 1e-3 degrees, N =
  // 6389250 m; the scale on the central meridian is 0.9996.
  EXPECT_NEAR(imported->network.pipes.length[0].si(),
              6389250.0 * std::cos(46.2 * M_PI / 180) * 1e-3 * M_PI / 180 * 0.9996, 0.01);
  EXPECT_EQ(imported->network.nodes.size(), 3u);
}

TEST_F(MapSource, ALayerWithoutASystemNeedsOne) {
  const std::string csv =
      write("main.csv", "ID,WKT\nA,\"LINESTRING (500000 5116000,500100 5116000)\"\n");
  const auto refused =
      import_map({csv, mapping("", R"({"layer": "main", "fields": {"id": "ID"}})"), {}});
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().fix.find("give `crs`"), std::string::npos);
  const auto imported = import_map(
      {csv, mapping("", R"({"layer": "main", "crs": "EPSG:32624", "fields": {"id": "ID"}})"), {}});
  ASSERT_TRUE(imported) << imported.error().where << imported.error().fix;
  EXPECT_NEAR(imported->network.pipes.length[0].si(), 100.0, 1e-9);
  EXPECT_EQ(imported->report.count("import.crs_chosen"), 0u) << "the map's own system will do";
}

TEST_F(MapSource, ALayerInTheWrongSystemIsFarAwayOrTrouble) {
  // Metres called degrees: the middle of the layer is nowhere.
  const std::string csv =
      write("main.csv", "ID,WKT\nA,\"LINESTRING (500000 5116000,500100 5116000)\"\n");
  const auto imported = import_map(
      {csv, mapping("", R"({"layer": "main", "crs": "EPSG:4326", "fields": {"id": "ID"}})"), {}});
  ASSERT_FALSE(imported);
  EXPECT_EQ(imported.error().code, Code::bad_geometry);
}

TEST_F(MapSource, EntriesMayComeFromOtherFiles) {
  write(
      "more.geojson",
      R"({"type": "FeatureCollection", "name": "extra", "features": [{"type": "Feature", "properties": {"ID": "C"},
    "geometry": {"type": "LineString", "coordinates": [[-38.998, 46.2005], [-38.997, 46.2005]]}}]})");
  const auto imported = import_map(
      {write("m.geojson", two_mains),
       mapping(
           "",
           R"({"layer": "main", "fields": {"id": "ID"}}, {"layer": "extra", "source": "more.geojson", "fields": {"id": "ID"}})"),
       {}});
  ASSERT_TRUE(imported) << imported.error().where << imported.error().fix;
  EXPECT_EQ(imported->network.pipes.size(), 3u);
  EXPECT_EQ(imported->network.nodes.size(), 4u) << "joined across files";
}

TEST_F(MapSource, ZonesAreThoseOfTheGrid) {
  EXPECT_EQ(utm_zone(-39.0, 46.2), "EPSG:32624");
  EXPECT_EQ(utm_zone(0.1, -5.0), "EPSG:32731");
  EXPECT_EQ(utm_zone(-180.0, 1.0), "EPSG:32601");
  EXPECT_EQ(utm_zone(180.0, 1.0), "EPSG:32660");
}

TEST_F(MapSource, WritingWhereNothingCanBeWrittenIsTroubleAndLeavesNothing) {
  const OutTable table{.name = "t",
                       .shape = Shape::point,
                       .columns = {{"id"}},
                       .rows = {{{OutCell(std::string("1"))}, {{{0, 0}}}}}};
  EXPECT_EQ(write_geopackage("/nowhere/a.gpkg", "EPSG:32624", {table}).error().code,
            Code::unwritable_file);
  const std::string path = (folder_ / "a.gpkg").string();
  EXPECT_FALSE(write_geopackage(path, "EPSG:0", {table}));
  EXPECT_TRUE(fs::is_empty(folder_));
}

}  // namespace
}  // namespace bellhole::maps
