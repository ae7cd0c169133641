// A map that came of a network reads back as the same network.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <unistd.h>

#include <filesystem>

#include "demo/write.hpp"
#include "maps/export_network.hpp"
#include "maps/files.hpp"
#include "maps/import.hpp"
#include "maps/write.hpp"
#include "network/check.hpp"
#include "tests/unit/maps/drawn_map.hpp"
#include "wire/network_file.hpp"

namespace bellhole::maps {
namespace {

namespace fs = std::filesystem;

class RoundTrip : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("bellhole-round-trip-" + std::to_string(::getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_ / name).string();
  }

  Imported marlhaven(bool spoilt) {
    demo::Town town = demo::build_town();
    if (spoilt) demo::spoil(town);
    EXPECT_TRUE(demo::write_map(town, path("marlhaven.gpkg")));
    auto imported = import_map({path("marlhaven.gpkg"),
                                std::string(BELLHOLE_SOURCE_DIR) + "/demo/marlhaven.mapping.json",
                                {}});
    EXPECT_TRUE(imported) << imported.error().where << ": " << imported.error().fix;
    return std::move(*imported);
  }
  /// Out as a map and in again.
  std::string bytes_after_round_trip(const network::Network& network) {
    EXPECT_TRUE(write_geopackage(path("out.gpkg"), network.crs, network_tables(network)));
    EXPECT_TRUE(write_file(path("out.mapping.json"), network_mapping(network)));
    const auto again = import_map({path("out.gpkg"), path("out.mapping.json"), {}});
    if (!again) return again.error().where + ": " + again.error().value + ": " + again.error().fix;
    EXPECT_FALSE(again->report.has_halt());
    return wire::write_network(again->network);
  }

 private:
  fs::path folder_;
};

TEST_F(RoundTrip, TheTownWithFaultyRecordsComesBackToTheLastByte) {
  const Imported imported = marlhaven(true);
  EXPECT_EQ(bytes_after_round_trip(imported.network), wire::write_network(imported.network));
}

TEST_F(RoundTrip, TheCleanTownComesBackToTheLastByte) {
  const Imported imported = marlhaven(false);
  EXPECT_EQ(bytes_after_round_trip(imported.network), wire::write_network(imported.network));
}

TEST_F(RoundTrip, ImportingTwiceGivesTheSameBytes) {
  const Imported first = marlhaven(true), second = marlhaven(true);
  EXPECT_EQ(wire::write_network(first.network), wire::write_network(second.network));
  EXPECT_EQ(report_json(first.report, first.summary), report_json(second.report, second.summary));
}

TEST_F(RoundTrip, TheTownIsWhatItsPlanSays) {
  const Imported clean = marlhaven(false), spoilt = marlhaven(true);
  EXPECT_EQ(clean.report.verdict(), Verdict::warn);
  EXPECT_EQ(clean.report.count("import.snapped"), 0u);
  EXPECT_EQ(clean.report.count("import.far_from_main"), 0u);
  EXPECT_GT(clean.network.customers.size(), 1900u);
  EXPECT_EQ(clean.network.tiers.size(), 3u);
  EXPECT_EQ(clean.network.regulators.size(), 3u);
  EXPECT_TRUE(network::check_columns(clean.network));
  for (const Finding& finding : network::check(clean.network, units::System::us)) {
    EXPECT_NE(finding.grade, Grade::halt) << finding.says;
    EXPECT_NE(finding.rule, "network.unfed") << finding.says;
  }
  // The faulty records lose nobody but the two meters that stand nowhere near a main.
  EXPECT_EQ(spoilt.network.customers.size(), clean.network.customers.size());
  for (const char* rule :
       {"import.snapped", "import.gap", "import.crossing", "import.duplicate_id", "import.repeated",
        "import.zero_length", "import.no_geometry", "import.bad_coordinates", "import.far_away",
        "import.parts", "import.heights", "import.unknown_code", "import.assumed",
        "import.far_from_main", "import.valve_at_joint", "import.two_way", "import.left_out",
        "import.layer_not_read", "import.projected"}) {
    EXPECT_GT(spoilt.report.count(rule), 0u) << rule;
  }
}

TEST_F(RoundTrip, AnyDrawnNetworkComesBack) {
  rc::check([&] {
    test::DrawnMap map;
    map.with("\"50%\"", "\"100%\"");
    const int mains = *rc::gen::inRange(1, 12);
    const auto coordinate = [] { return *rc::gen::inRange(0, 40) * 7.3; };
    for (int i = 0; i < mains; ++i) {
      Line line;
      for (int k = *rc::gen::inRange(2, 5); k > 0; --k)
        line.push_back({500000 + coordinate(), 100000 + coordinate()});
      map.main("M" + std::to_string(i), line,
               {{"TIER", *rc::gen::element<std::string>("F", "D")},
                {"LEN_FT", *rc::gen::element<std::string>("", "333")}});
    }
    for (int i = *rc::gen::inRange(0, 5); i > 0; --i) {
      map.meter("C" + std::to_string(i), {500000 + coordinate(), 100000 + coordinate()});
      map.valve("V" + std::to_string(i), {500000 + coordinate(), 100000 + coordinate()});
      map.fitting("F" + std::to_string(i), {500000 + coordinate(), 100000 + coordinate()}, "TEE",
                  "9");
    }
    maps::Report report;
    auto network = map.try_build(report);
    RC_PRE(network.has_value());
    // The drawn map's degrees are no real ones; those of the way back are.
    for (double& lon : network->nodes.lon) lon = 0.0;
    for (double& lat : network->nodes.lat) lat = 0.0;
    auto again = wire::read_network(bytes_after_round_trip(*network), "again");
    RC_ASSERT(again.has_value());
    for (double& lon : again->nodes.lon) lon = 0.0;
    for (double& lat : again->nodes.lat) lat = 0.0;
    RC_ASSERT(wire::write_network(*again) == wire::write_network(*network));
  });
}

}  // namespace
}  // namespace bellhole::maps
