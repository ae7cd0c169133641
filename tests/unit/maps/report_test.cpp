#include "maps/report.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace bellhole::maps {
namespace {

Report three() {
  Report report;
  report.add({"import.snapped", Grade::warn, "main", "B", "geometry", "gap 0.2 m", "moved",
              "pipe B", false});
  report.add({"import.gap", Grade::undecided, "main", "A", "geometry", "gap 2 m", "not joined",
              "pipe A", false});
  report.add({"import.snapped", Grade::warn, "main", "A", "geometry", "gap 0.1 m", "moved",
              "pipe A", false});
  return report;
}

TEST(ImportReport, SortsWorstFirstAndThenByFeature) {
  Report report = three();
  report.sort();
  EXPECT_EQ(report.rows()[0].rule, "import.gap");
  EXPECT_EQ(report.rows()[1].feature, "A");
  EXPECT_EQ(report.verdict(), Verdict::undecided);
}

TEST(ImportReport, TextCountsWhatItDoesNotShow) {
  Report report = three();
  report.sort();
  const std::string text = report_text(report, {}, 1);
  EXPECT_NE(text.find("warn import.snapped (2)"), std::string::npos);
  EXPECT_NE(text.find("and 1 more"), std::string::npos);
  EXPECT_EQ(text.find("gap 0.2 m"), std::string::npos);
}

TEST(ImportReport, DocumentHasEveryRow) {
  const auto json = nlohmann::json::parse(report_json(three(), {.map = "a.gpkg", .pipes = 3}));
  EXPECT_EQ(json["rows"].size(), 3u);
  EXPECT_EQ(json["rows"][0]["grade"], "warn");
  EXPECT_EQ(json["verdict"], "undecided");
  EXPECT_EQ(json["counts"]["pipes"], 3);
  EXPECT_TRUE(json["network_hash"].is_null()) << "no network was written";
}

}  // namespace
}  // namespace bellhole::maps
