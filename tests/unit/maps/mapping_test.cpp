#include "maps/mapping.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "maps/mapping_fields.hpp"

namespace bellhole::maps {
namespace {

const std::string small = R"({
"document": "bellhole.mapping", "version": 1, "snap_tolerance": "0.5m", "report_gap": "3m", "most_not_snapping": "10%",
"tiers": [{"id": "district", "maop": "45psi", "least": null}],
"shapes": [{"id": "house", "reference": "65degF", "low": 0.8, "high": 1.2, "hour_factor": [1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]}],
"load_classes": {"RES": {"shape": "house", "base": "5 scfh", "slope": "0.9 scfh/degF", "because": "bills"}},
"pipe_codes": {"office": {"4PE": {"material": "pe", "inserted": false, "ratio": 11}}},
"roughness": {"pe": {"value": "0.0015mm", "because": "smooth"}},
"layers": {"mains": [{"layer": "main", "fields": {"id": "ID", "depth": {"column": "D", "unit": "in"}, "ratio": {"column": "DR", "if_missing": 11, "because": "standard"}}}]}
})";

Result<Mapping> with(std::string_view from, std::string_view to) {
  std::string text = small;
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return read_mapping(text.replace(at, from.size(), to), "m.json");
}

TEST(Mapping, ReadsWhatStandsThere) {
  const auto mapping = read_mapping(small, "m.json");
  ASSERT_TRUE(mapping) << mapping.error().where << mapping.error().fix;
  EXPECT_DOUBLE_EQ(mapping->snap.si(), 0.5);
  EXPECT_DOUBLE_EQ(mapping->most_not_snapping, 0.1);
  EXPECT_NEAR(mapping->tiers[0].maop.si(), 310264.078, 0.001);
  EXPECT_TRUE(std::isnan(mapping->tiers[0].least.si()));
  ASSERT_FALSE(mapping->assumed.empty()) << "45 psi was read as gauge";
  EXPECT_EQ(mapping->pipe_codes.at("office").at("4PE").fields.at("inserted"), "no");
  EXPECT_EQ(mapping->pipe_codes.at("office").at("4PE").fields.at("ratio"), "11");
  const auto& fields = mapping->entries("mains")[0].fields;
  EXPECT_EQ(fields.find("ratio")->second.if_missing, "11");
  EXPECT_EQ(fields.find("depth")->second.unit, "in");
  EXPECT_TRUE(mapping->entries("valves").empty());
}

struct Wrong {
  const char* from;
  const char* to;
  const char* code;
  const char* where;
};
class WrongMapping : public testing::TestWithParam<Wrong> {};
TEST_P(WrongMapping, NamesThePlaceAndTheFix) {
  const auto& wrong = GetParam();
  const auto mapping = with(wrong.from, wrong.to);
  ASSERT_FALSE(mapping);
  EXPECT_EQ(std::string(to_string(mapping.error().code)), wrong.code);
  EXPECT_EQ(mapping.error().where, wrong.where);
  EXPECT_FALSE(mapping.error().fix.empty());
}
INSTANTIATE_TEST_SUITE_P(
    All, WrongMapping,
    testing::Values(
        Wrong{R"("document": "bellhole.mapping")", R"("document": "bellhole.network")",
              "bad_mapping", "m.json.document"},
        Wrong{R"("snap_tolerance": "0.5m", )", "", "missing_value", "m.json.snap_tolerance"},
        Wrong{R"("0.5m")", R"("0.5psi")", "wrong_dimension", "m.json.snap_tolerance"},
        Wrong{R"("0.5m")", R"("0m")", "bad_mapping", "m.json.snap_tolerance"},
        Wrong{R"("report_gap": "3m")", R"("report_gap": "3mm")", "bad_mapping",
              "m.json.report_gap"},
        Wrong{R"("10%")", R"("0%")", "bad_mapping", "m.json.most_not_snapping"},
        Wrong{R"("45psi")", R"("45kPaa")", "wrong_dimension", "m.json.tiers[0].maop"},
        Wrong{R"("id": "district")", R"("id": "")", "bad_mapping", "m.json.tiers[0].id"},
        Wrong{R"("low": 0.8)", R"("low": 1.3)", "bad_mapping", "m.json.shapes[0].low"},
        Wrong{"[1,1,1", "[1,1,2", "bad_mapping", "m.json.shapes[0].hour_factor"},
        Wrong{"[1,1,1", "[1,1", "bad_mapping", "m.json.shapes[0].hour_factor"},
        Wrong{R"("shape": "house")", R"("shape": "barn")", "bad_mapping",
              "m.json.load_classes.RES.shape"},
        Wrong{"0.9 scfh/degF", "0.9 scfh", "wrong_dimension", "m.json.load_classes.RES.slope"},
        Wrong{R"(, "because": "bills")", "", "missing_value", "m.json.load_classes.RES.because"},
        Wrong{R"("material": "pe", "in)", R"("colour": "pe", "in)", "bad_mapping",
              "m.json.pipe_codes.office.4PE.colour"},
        Wrong{R"("id": "ID")", R"("name": "ID")", "bad_mapping",
              "m.json.layers.mains[0].fields.name"},
        Wrong{R"("mains")", R"("pipes")", "bad_mapping", "m.json.layers.pipes"},
        Wrong{R"("mains")", R"("valves")", "bad_mapping", "m.json.layers.valves[0].fields.depth"},
        Wrong{R"({"column": "D", "unit": "in"})", R"({"unit": "in"})", "bad_mapping",
              "m.json.layers.mains[0].fields.depth"},
        Wrong{R"({"column": "D", "unit": "in"})", R"({"column": "D", "value": "3in"})",
              "bad_mapping", "m.json.layers.mains[0].fields.depth"},
        Wrong{R"(, "because": "standard")", "", "bad_mapping",
              "m.json.layers.mains[0].fields.ratio.because"},
        Wrong{R"("layer": "main",)", R"("layer": "main", "tiers": ["feeder"],)", "bad_mapping",
              "m.json.layers.mains[0].tiers"},
        Wrong{R"("tiers": [{"id": "district", "maop": "45psi", "least": null}])",
              R"("tiers": [{"id": "a"}, {"id": "b"}])", "bad_mapping", "m.json.layers.mains"},
        Wrong{R"("version": 1,)", R"("version": 1, "colour": 3,)", "unreadable_document",
              "m.json.colour"}));

TEST(Mapping, TheSchemaNamesTheFieldsThatAreRead) {
  const auto schema = nlohmann::json::parse(
      std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/schema/mapping.schema.json"));
  const auto& layers = schema["properties"]["layers"]["properties"];
  std::size_t count = 0;
  for (const auto& [kind, entry] : layers.items()) {
    EXPECT_TRUE(is_kind(kind)) << kind;
    ++count;
    std::size_t fields = 0;
    for (const auto& [field, from] : entry["items"]["properties"]["fields"]["properties"].items()) {
      EXPECT_TRUE(is_field(kind, field)) << kind << "." << field;
      ++fields;
    }
    const std::string list = field_list(kind);
    EXPECT_EQ(fields, static_cast<std::size_t>(std::ranges::count(list, ',')) + 1) << kind;
  }
  const std::string list = kind_list();
  EXPECT_EQ(count, static_cast<std::size_t>(std::ranges::count(list, ',')) + 1);
}

TEST(Mapping, SlopesAreFlowsForADegree) {
  EXPECT_NEAR(*parse_slope("1.2 scfh/degF", "x"), 1.2 * 1.8 * 0.028316846592 / 3600, 1e-15);
  EXPECT_NEAR(*parse_slope("0.036 std m3/h/K", "x"), 1e-5, 1e-15);
  EXPECT_FALSE(parse_slope("1.2 scfh/ft", "x"));
  EXPECT_FALSE(parse_slope("-1 scfh/degF", "x"));
}

}  // namespace
}  // namespace bellhole::maps
