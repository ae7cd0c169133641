#include "network/check.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "wire/network_file.hpp"

namespace bellhole::network {
namespace {

// Source -- M-1 -- N2 -- M-2 -- N3 in the feeder, a regulator to N4 -- M-3 -- N5 in the district.
const char* const sound = R"({
"document": "bellhole.network", "version": 1, "name": "sound", "crs": "EPSG:32630",
"base": {"pa_abs": 101559.8, "k": 288.7}, "barometer_pa_abs": 101325,
"tiers": {"id": ["feeder", "district"], "maop_pa_gauge": [413685, 310264], "least_pa_gauge": [100000, 50000]},
"nodes": {"id": ["N1","N2","N3","N4","N5"], "x_m": [0,100,200,201,300], "y_m": [0,0,0,0,0],
  "tier": ["feeder","feeder","feeder","district","district"]},
"pipes": {"id": ["M-1","M-2","M-3"], "from": ["N1","N2","N4"], "to": ["N2","N3","N5"], "length_m": [100,100,99],
  "bore_m": [0.1,0.1,0.05], "material": ["pe","pe","pe"], "size": ["IPS 4","IPS 4","IPS 2"], "ratio": [11,11,11]},
"valves": {"id": ["V-1"], "pipe": ["M-1"], "station_m": [50], "position": ["open"], "normal": ["open"]},
"regulators": {"id": ["R-1"], "inlet": ["N3"], "outlet": ["N4"], "sensing": ["remote"], "tap_pipe": ["M-3"],
  "tap_station_m": [40], "set_point_pa_gauge": [300000], "relief_pa_gauge": [330000], "capacity_std_m3_per_s": [1],
  "blocks_reverse": [true]},
"sources": {"id": ["S-1"], "node": ["N1"], "pressure_pa_gauge": [400000]},
"shapes": {"id": ["house"], "reference_k": [291.5], "low": [0.8], "high": [1.2],
  "hour_factor": [[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]]},
"customers": {"id": ["C-1"], "pipe": ["M-3"], "station_m": [60], "shape": ["house"], "base_std_m3_per_s": [0.0001],
  "slope_std_m3_per_s_per_k": [0.00001], "must_not_lose": [true], "why_not": ["clinic"]},
"features": {"id": ["F-1"], "kind": ["fitting"], "pipe": ["M-3"], "begin_m": [10], "end_m": [11]}
})";

Network from(const std::string& text) {
  const auto read = wire::read_network(text, "drawn");
  EXPECT_TRUE(read) << read.error().where << ": " << read.error().fix;
  return *read;
}

Network changed(std::string_view was, std::string_view is) {
  std::string text = sound;
  const auto at = text.find(was);
  EXPECT_NE(at, std::string::npos) << was;
  return from(text.replace(at, was.size(), is));
}

std::vector<std::string> rules(const Findings& findings) {
  std::vector<std::string> out;
  for (const auto& finding : findings)
    out.push_back(finding.rule + " " + std::string(to_string(finding.grade)));
  return out;
}

TEST(NetworkCheck, FindsNothingAgainstASoundNetwork) {
  EXPECT_EQ(rules(check(from(sound), units::System::metric)), std::vector<std::string>{});
}

struct Wrong {
  const char* was;
  const char* is;
  const char* rule;
  const char* about;
};
class NetworkContradiction : public testing::TestWithParam<Wrong> {};

TEST_P(NetworkContradiction, IsFoundAndNamesTheElement) {
  const auto& wrong = GetParam();
  const auto findings = check(changed(wrong.was, wrong.is), units::System::us);
  const auto found = std::ranges::find_if(findings, [&](const Finding& f) {
    return f.rule + " " + std::string(to_string(f.grade)) == wrong.rule &&
           f.about.find(wrong.about) != std::string::npos;
  });
  ASSERT_NE(found, findings.end()) << wrong.rule;
  EXPECT_FALSE(found->says.empty());
  EXPECT_FALSE(found->action.empty());
}

INSTANTIATE_TEST_SUITE_P(
    All, NetworkContradiction,
    testing::Values(
        Wrong{R"("id": ["S-1"], "node": ["N1"], "pressure_pa_gauge": [400000])", R"("id": [])",
              "network.no_source halt", "sound"},
        Wrong{R"("pressure_pa_gauge": [400000])", R"("pressure_pa_gauge": [null])",
              "network.unknown_pressure undecided", "source S-1"},
        Wrong{R"("pressure_pa_gauge": [400000])", R"("pressure_pa_gauge": [420000])",
              "network.above_maop halt", "source S-1"},
        Wrong{R"([300000], "relief)", R"([310265], "relief)", "network.above_maop halt",
              "regulator R-1"},
        Wrong{R"("maop_pa_gauge": [413685, 310264])", R"("maop_pa_gauge": [413685, null])",
              "network.unknown_maop undecided", "tier district"},
        Wrong{R"("least_pa_gauge": [100000, 50000])", R"("least_pa_gauge": [100000, null])",
              "network.unknown_least undecided", "tier district"},
        Wrong{R"("tier": ["feeder",)", R"("tier": [null,)", "network.unknown_tier undecided",
              "node N1"},
        Wrong{R"("tier": ["feeder","feeder")", R"("tier": ["feeder","district")",
              "network.tier_joined halt", "pipe M-1"},
        Wrong{R"("x_m": [0,100,200,201,300])", R"("x_m": [0,100,200,201,200.01])",
              "network.length_apart warn", "pipe M-3"},
        Wrong{R"("length_m": [100,100,99])", R"("length_m": [0,100,99])",
              "network.zero_length halt", "pipe M-1"},
        Wrong{R"("length_m": [100,100,99])", R"("length_m": [100,120,99])",
              "network.length_apart warn", "pipe M-2"},
        Wrong{R"("to": ["N2","N3","N5"])", R"("to": ["N1","N3","N5"])", "network.unfed undecided",
              "M-2"},
        Wrong{R"("to": ["N2","N3","N5"])", R"("to": ["N1","N3","N5"])", "network.same_node warn",
              "pipe M-1"},
        Wrong{R"("bore_m": [0.1,0.1,0.05])", R"("bore_m": [0.1,null,0.05])",
              "network.unknown_bore undecided", "pipe M-2"},
        Wrong{R"("ratio": [11,11,11])", R"("ratio": [11,null,11])",
              "network.unknown_ratio undecided", "pipe M-2"},
        Wrong{R"("material": ["pe",)", R"("material": [null,)",
              "network.unknown_material undecided", "pipe M-1"},
        Wrong{R"("station_m": [50], "position")", R"("station_m": [100.5], "position")",
              "network.station_beyond halt", "valve V-1"},
        Wrong{R"("station_m": [60], "shape")", R"("station_m": [99.5], "shape")",
              "network.station_beyond halt", "customer C-1"},
        Wrong{R"("tap_station_m": [40])", R"("tap_station_m": [400])",
              "network.station_beyond halt", "tap of regulator R-1"},
        Wrong{R"("begin_m": [10], "end_m": [11])", R"("begin_m": [11], "end_m": [10])",
              "network.station_beyond halt", "feature F-1"},
        Wrong{R"("position": ["open"])", R"("position": ["closed"])", "network.valve_position warn",
              "valve V-1"},
        Wrong{R"("position": ["open"])", R"("position": [null])",
              "network.unknown_position undecided", "valve V-1"},
        Wrong{R"("tap_pipe": ["M-3"])", R"("tap_pipe": ["M-2"])", "network.regulator_tap halt",
              "regulator R-1"},
        Wrong{R"("tap_pipe": ["M-3"])", R"("tap_pipe": [null])", "network.regulator_tap undecided",
              "regulator R-1"},
        Wrong{R"("relief_pa_gauge": [330000])", R"("relief_pa_gauge": [290000])",
              "network.regulator_relief halt", "regulator R-1"},
        Wrong{R"("outlet": ["N4"])", R"("outlet": ["N3"])", "network.same_node halt",
              "regulator R-1"},
        Wrong{R"("capacity_std_m3_per_s": [1])", R"("capacity_std_m3_per_s": [null])",
              "network.unknown_capacity undecided", "regulator R-1"},
        Wrong{R"("blocks_reverse": [true])", R"("blocks_reverse": [null])",
              "network.unknown_reverse undecided", "regulator R-1"},
        Wrong{R"("sensing": ["remote"])", R"("sensing": [null])",
              "network.unknown_sensing undecided", "regulator R-1"},
        Wrong{R"("set_point_pa_gauge": [300000])", R"("set_point_pa_gauge": [null])",
              "network.unknown_set_point undecided", "regulator R-1"},
        Wrong{"[[1,1,", "[[1,2,", "network.day_mean halt", "shape house"},
        Wrong{R"("high": [1.2])", R"("high": [0.9])", "network.shape_range halt", "shape house"},
        Wrong{R"("shape": ["house"])", R"("shape": [null])", "network.unknown_load undecided",
              "customer C-1"},
        Wrong{R"("why_not": ["clinic"])", R"("why_not": [""])", "network.unknown_reason warn",
              "C-1"}));

TEST(NetworkCheck, TwoNodesAtOnePlaceAreSaid) {
  std::string text = sound;
  text.replace(text.find("[0,100,200,201,300]"), 19, "[0,100,0.02,201,300]");
  const auto findings = check(from(text), units::System::us);
  const auto found = std::ranges::find(findings, "network.same_place", &Finding::rule);
  ASSERT_NE(found, findings.end());
  EXPECT_EQ(found->about, "node N1, node N3");
}

TEST(NetworkCheck, ARegulatorMayStandAtOnePlace) {
  std::string text = sound;
  text.replace(text.find("[0,100,200,201,300]"), 19, "[0,100,200,200,300]");
  const auto findings = check(from(text), units::System::us);
  EXPECT_EQ(std::ranges::find(findings, "network.same_place", &Finding::rule), findings.end());
}

TEST(NetworkCheck, ColumnsThatDoNotFitAreTrouble) {
  Network net = from(sound);
  EXPECT_TRUE(check_columns(net));
  net.pipes.bore.pop_back();
  ASSERT_FALSE(check_columns(net));
  EXPECT_EQ(check_columns(net).error().code, Code::bad_network);
  net = from(sound);
  net.valves.pipe[0] = 3;
  EXPECT_FALSE(check_columns(net));
  net = from(sound);
  net.regulators.tap_pipe[0] = none;
  EXPECT_TRUE(check_columns(net)) << "a tap may be unknown";
  net.pipes.from[0] = none;
  EXPECT_FALSE(check_columns(net)) << "a pipe without an end is none";
  net = from(sound);
  net.pipes.first[1] = 1;
  EXPECT_FALSE(check_columns(net)) << "a line of one point";
}

}  // namespace
}  // namespace bellhole::network
