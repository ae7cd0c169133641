#include "wire/network_file.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

// Three pipes with one of everything. Written by hand: what it says is what the schema promises.
const std::string small = R"({
"document": "bellhole.network",
"version": 1,
"name": "three pipes",
"crs": "EPSG:32630",
"imported_from": "drawn by hand",
"map_date": "2026-05-01",
"base": {"pa_abs": 101559.8, "k": 288.7055555555555},
"barometer_pa_abs": 101325,
"datum_altitude_m": null,
"tiers": {
  "id": ["district", "low"],
  "maop_pa_gauge": [413685.4, null]},
"nodes": {
  "id": ["N1", "N2", "N3", "N4"],
  "x_m": [500000, 500100.5, 500100.5, 500200],
  "y_m": [100, 100, 200, 100],
  "lon_deg": [-3, -2.99, -2.99, null],
  "lat_deg": [0.1, 0.1, 0.2, null],
  "tier": ["district", "district", "district", "low"]},
"pipes": {
  "id": ["M-1", "M-2", "M-3"],
  "from": ["N1", "N2", "N2"],
  "to": ["N2", "N3", "N4"],
  "length_m": [101.25, 100, 99.5],
  "bore_m": [0.1, 0.05, null],
  "material": ["pe", "pe", "unknown"],
  "size": ["IPS 4", "IPS 2", null],
  "ratio": [11.5, 11, null],
  "year": [1998, null, null],
  "inserted": [false, true, null],
  "street": ["Quay \"Lower\" Street", "Ännchen Way", ""],
  "line_m": [[500000, 100, 500050, 110, 500100.5, 100], null, null]},
"valves": {
  "id": ["V-1"], "pipe": ["M-1"], "station_m": [10], "position": ["closed"], "operable": [null]},
"regulators": {
  "id": ["R-1"], "inlet": ["N2"], "outlet": ["N4"], "sensing": ["remote"], "tap_pipe": ["M-3"],
  "tap_station_m": [50], "set_point_pa_gauge": [1743.6]},
"sources": {"id": ["S-1"], "node": ["N1"], "pressure_pa_gauge": [379212]},
"shapes": {
  "id": ["house"], "reference_k": [291.483], "low": [0.7], "high": [1.2],
  "hour_factor": [[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]]},
"customers": {
  "id": ["C-1"], "pipe": ["M-2"], "station_m": [40], "shape": ["house"], "base_std_m3_per_s": [0.0001],
  "slope_std_m3_per_s_per_k": [0.00002], "must_not_lose": [true], "why_not": ["hospital"]},
"features": {"id": ["F-1"], "kind": ["service_tee"], "pipe": ["M-2"], "begin_m": [40], "end_m": [40]},
"fixed_points": {"id": ["H-1"], "x_m": [500001], "y_m": [99], "says": ["hydrant H-1"]},
"backdrop": {"kind": ["coast"], "says": [""], "line_m": [[0, 0, 10, 10]]},
"notes": {"rule": ["import.snapped"], "element": ["pipe M-2"], "says": ["end moved 0.3 m"], "assumed": [false]}
})";

std::string with(std::string_view from, std::string_view to) {
  std::string text = small;
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(NetworkFile, ReadsWhatStandsThere) {
  const auto read = read_network(small, "town.json");
  ASSERT_TRUE(read) << read.error().where << " " << read.error().fix;
  const auto& net = *read;
  EXPECT_EQ(net.crs, "EPSG:32630");
  EXPECT_TRUE(std::isnan(net.datum_altitude.si()));
  EXPECT_DOUBLE_EQ(net.base_pressure.si(), 101559.8);
  ASSERT_EQ(net.tiers.size(), 2u);
  EXPECT_TRUE(std::isnan(net.tiers.maop[1].si()));
  EXPECT_TRUE(std::isnan(net.tiers.least[0].si())) << "a column left out is unknown in every row";
  EXPECT_EQ(net.nodes.tier[3], 1);
  EXPECT_TRUE(std::isnan(net.nodes.lon[3]));
  ASSERT_EQ(net.pipes.size(), 3u);
  EXPECT_EQ(net.pipes.to[2], 3);
  EXPECT_DOUBLE_EQ(net.pipes.length[0].si(), 101.25);
  EXPECT_TRUE(std::isnan(net.pipes.bore[2].si()));
  EXPECT_EQ(net.pipes.material[2], network::Material::unknown);
  EXPECT_EQ(net.pipes.year[1], 0);
  EXPECT_EQ(net.pipes.lining[0].inserted, network::Ternary::no);
  EXPECT_EQ(net.pipes.lining[1].inserted, network::Ternary::yes);
  EXPECT_EQ(net.pipes.lining[2].inserted, network::Ternary::unknown);
  EXPECT_EQ(net.pipes.lining[0].cased, network::Ternary::unknown);
  EXPECT_EQ(net.pipes.street[0], "Quay \"Lower\" Street");
  const std::vector<std::int32_t> first = {0, 3, 5, 7};
  EXPECT_EQ(net.pipes.first, first);
  EXPECT_DOUBLE_EQ(net.pipes.vx[4], 500100.5) << "no line is a straight line between the nodes";
  EXPECT_DOUBLE_EQ(net.pipes.vy[4], 200.0);
  EXPECT_EQ(net.valves.position[0], network::Position::closed);
  EXPECT_EQ(net.valves.normal[0], network::Position::unknown);
  EXPECT_EQ(net.regulators.tap_pipe[0], 2);
  EXPECT_TRUE(std::isnan(net.regulators.capacity[0].si()));
  EXPECT_EQ(net.customers.must_not_lose[0], 1);
  EXPECT_EQ(net.features.kind[0], network::FeatureKind::service_tee);
  EXPECT_EQ(net.backdrop.kind[0], network::BackdropKind::coast);
  EXPECT_EQ(net.notes.element[0], "pipe M-2");
}

TEST(NetworkFile, WhatWasWrittenReadsBackTheSame) {
  const auto first = read_network(small, "town.json");
  ASSERT_TRUE(first);
  const std::string bytes = write_network(*first);
  const auto second = read_network(bytes, "again.json");
  ASSERT_TRUE(second) << second.error().where << " " << second.error().fix;
  EXPECT_EQ(write_network(*second), bytes);
  EXPECT_EQ(network_hash(*second), network_hash(*first));
  EXPECT_EQ(network_hash(*first), sha256(bytes)) << "a file as written is named by its own bytes";
}

TEST(NetworkFile, LayoutDoesNotChangeTheName) {
  std::string loose = small;
  for (auto& c : loose) {
    if (c == '\n') c = ' ';
  }
  EXPECT_EQ(network_hash(*read_network(loose, "loose")),
            network_hash(*read_network(small, "small")));
  const auto other = read_network(with("101.25", "101.26"), "other");
  ASSERT_TRUE(other);
  EXPECT_NE(network_hash(*other), network_hash(*read_network(small, "small")));
}

struct Broken {
  const char* from;
  const char* to;
  Code code;
  const char* where;
};

class BrokenNetwork : public testing::TestWithParam<Broken> {};

TEST_P(BrokenNetwork, NamesTableRowFieldAndFix) {
  const auto& broken = GetParam();
  const auto read = read_network(with(broken.from, broken.to), "town.json");
  ASSERT_FALSE(read);
  EXPECT_EQ(to_string(read.error().code), to_string(broken.code)) << read.error().where;
  EXPECT_EQ(read.error().where, broken.where);
  EXPECT_FALSE(read.error().fix.empty());
}

INSTANTIATE_TEST_SUITE_P(
    All, BrokenNetwork,
    testing::Values(
        Broken{"[101.25, 100, 99.5]", "[101.25, 100]", Code::bad_network,
               "town.json: pipes, length_m"},
        Broken{"[101.25, 100, 99.5]", "[101.25, -1, 99.5]", Code::out_of_range,
               "town.json: pipes, row 1 (M-2), length_m"},
        Broken{"[101.25, 100, 99.5]", "[101.25, null, 99.5]", Code::missing_value,
               "town.json: pipes, row 1 (M-2), length_m"},
        Broken{"[101.25, 100, 99.5]", "[101.25, \"far\", 99.5]", Code::unreadable_value,
               "town.json: pipes, row 1 (M-2), length_m"},
        Broken{"\"length_m\"", "\"lenght_m\"", Code::bad_network, "town.json: pipes, length_m"},
        Broken{"\"size\"", "\"sise\"", Code::bad_network, "town.json: pipes, sise"},
        Broken{"\"to\": [\"N2\"", "\"to\": [\"N9\"", Code::unknown_element,
               "town.json: pipes, row 0 (M-1), to"},
        Broken{"\"M-3\"],\n  \"from\"", "\"M-1\"],\n  \"from\"", Code::bad_network,
               "town.json: pipes, row 2 (M-1), id"},
        Broken{"[\"pe\", \"pe\", \"unknown\"]", "[\"pe\", \"PE\", \"unknown\"]",
               Code::unreadable_value, "town.json: pipes, row 1 (M-2), material"},
        Broken{"[500000, 100, 500050, 110, 500100.5, 100]", "[500000, 100, 500050]",
               Code::unreadable_value, "town.json: pipes, row 0 (M-1), line_m"},
        Broken{"[[1,1,", "[[1,", Code::unreadable_value,
               "town.json: shapes, row 0 (house), hour_factor"},
        Broken{"\"position\": [\"closed\"]", "\"position\": [\"shut\"]", Code::unreadable_value,
               "town.json: valves, row 0 (V-1), position"},
        Broken{"\"must_not_lose\": [true]", "\"must_not_lose\": [1]", Code::unreadable_value,
               "town.json: customers, row 0 (C-1), must_not_lose"},
        Broken{"\"lat_deg\": [0.1", "\"lat_deg\": [91", Code::out_of_range,
               "town.json: nodes, row 0 (N1), lat_deg"},
        Broken{"\"base\"", "\"bass\"", Code::unreadable_document, "town.json: base"},
        Broken{"\"k\": 288.7055555555555", "\"k\": 0", Code::unreadable_document,
               "town.json: base.k"},
        Broken{"\"version\": 1", "\"version\": 2", Code::unreadable_document, "town.json: version"},
        Broken{"\"document\": \"bellhole.network\"", "\"document\": \"bellhole.plan\"",
               Code::unreadable_document, "town.json: document"},
        Broken{"\"name\"", "\"nane\"", Code::unreadable_document, "town.json: nane"},
        Broken{"\"valves\": {", "\"valves\": [], \"more\": {", Code::bad_network,
               "town.json: valves, "}));

TEST(NetworkFile, RefusesWhatIsNoDocument) {
  for (const std::string text : {"", "[]", "nul", "{\"document\":", "\xff\xfe"}) {
    const auto read = read_network(text, "x");
    ASSERT_FALSE(read) << text;
    EXPECT_EQ(read.error().code, Code::unreadable_document) << text;
  }
  const auto deep = read_network(std::string(10000, '['), "x");
  ASSERT_FALSE(deep);
  EXPECT_EQ(deep.error().code, Code::too_large);
}

}  // namespace
}  // namespace bellhole::wire
