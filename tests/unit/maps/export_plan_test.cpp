#include "maps/export_plan.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace bellhole::maps {
namespace {

// The parts of a reply that a map is made of: one main 200 m recorded and 100 m drawn, one squeeze.
const std::string reply =
    R"({"question": "plan", "kind": "planned", "plan_id": "p1", "verdict": "undecided", "network": {"hash": "h"},
"work": {"says": "main A at 30 m", "pipe": "A", "x_m": 15, "y_m": 0, "lon": -3, "lat": 0.01},
"findings": [{"grade": "undecided", "says": "no limit set", "action": "decide", "about": "A"}], "assumed": ["psi read as gauge"],
"map": {"crs": "EPSG:32630", "lines": [{"pipe": "A", "length_m": 200, "size": "IPS 4", "tier": "district", "material": "pe", "xy_m": [0, 0, 50, 0, 100, 0]}]},
"plans": [{"rank": 1, "findings": [], "shutoffs": [{"id": "A", "kind": "squeeze", "element": "A", "pipe": "A", "station_m": 40, "says": "squeeze main A at 40 m",
  "if_it_fails": {"says": "go on"}, "x_m": 20, "y_m": 0, "window_m": [38, 42], "lon": -3, "lat": 0.01, "findings": []}],
  "isolated": {"pieces": [{"pipe": "A", "from_station_m": 40, "to_station_m": 160}]},
  "customers_out": [{"id": "C1", "pipe": "A", "station_m": 100, "must_not_lose": true, "why_not": "clinic", "cause": "isolated"},
                    {"id": "C2", "pipe": "gone", "station_m": 1, "must_not_lose": false, "cause": "pocket"}]}]})";

const OutTable& table(const PlanMap& map, const char* name) {
  return *std::ranges::find(map.tables, name, &OutTable::name);
}

TEST(ExportPlan, PlacesFollowTheRecordedLength) {
  const auto map = plan_tables(reply, "plan.json");
  ASSERT_TRUE(map) << map.error().fix;
  EXPECT_EQ(map->crs, "EPSG:32630");
  const OutTable& isolated = table(*map, "isolated");
  ASSERT_EQ(isolated.rows.size(), 1u);
  EXPECT_NEAR(isolated.rows[0].parts[0].front().x, 20.0, 1e-9);
  EXPECT_NEAR(isolated.rows[0].parts[0].back().x, 80.0, 1e-9);
  EXPECT_EQ(isolated.rows[0].parts[0].size(), 3u) << "the bend in between is kept";
  EXPECT_EQ(std::get<std::string>(table(*map, "shutoff").rows[0].cells[7]), "go on");
}

TEST(ExportPlan, NothingOfThePlanIsLeftOut) {
  const auto map = plan_tables(reply, "plan.json");
  ASSERT_TRUE(map);
  const OutTable& customers = table(*map, "customer_out");
  ASSERT_EQ(customers.rows.size(), 2u);
  EXPECT_NEAR(customers.rows[0].parts[0][0].x, 50.0, 1e-9);
  EXPECT_TRUE(customers.rows[1].parts.empty()) << "off the drawn part: a row without a place";
  EXPECT_EQ(table(*map, "remark").rows.size(), 2u);
}

TEST(ExportPlan, RefusesWhatIsNoPlan) {
  for (const std::string text :
       {"[]", "{}", "{\"question\": \"plan\"}",
        "{\"question\": \"squeeze\", \"map\": {\"crs\": \"EPSG:1\"}}", "not json"}) {
    const auto map = plan_tables(text, "x");
    ASSERT_FALSE(map) << text;
    EXPECT_EQ(map.error().code, Code::unreadable_document) << text;
  }
}

}  // namespace
}  // namespace bellhole::maps
