// The demonstration's town and its recorded scenarios, from the map to the answers: each goes on
// saying what makes it worth showing.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "ask/ask.hpp"
#include "demo/write.hpp"
#include "maps/import.hpp"
#include "wire/network_file.hpp"

namespace bellhole {
namespace {

using Json = nlohmann::json;
namespace fs = std::filesystem;

std::string project_file(const std::string& name) {
  std::stringstream text;
  text << std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/" + name).rdbuf();
  return text.str();
}
Json scenarios() { return Json::parse(project_file("demo/scenarios.json")).at("scenarios"); }

/// The imported town, loaded once.
class Town : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    if (!document_.empty()) return;
    const fs::path map =
        fs::temp_directory_path() / ("bellhole-marlhaven-" + std::to_string(::getpid()) + ".gpkg");
    demo::Town town = demo::build_town();
    demo::spoil(town);
    ASSERT_TRUE(demo::write_map(town, map.string()));
    const auto imported = maps::import_map(
        {map.string(), std::string(BELLHOLE_SOURCE_DIR) + "/demo/marlhaven.mapping.json", {}});
    fs::remove(map);
    ASSERT_TRUE(imported) << imported.error().where << ": " << imported.error().fix;
    document_ = wire::write_network(imported->network);
    network_ = *library_.load("network", document_, "marlhaven");
    procedure_ = *library_.load("profile", project_file("profiles/demo-company.json"), "procedure");
    tools_ = *library_.load("tools", project_file("profiles/demo-tools.json"), "tools");
  }
  static Json ask_for(Json request) {
    request["network"] = network_;
    if (request.at("question") == "plan") {
      request["procedure"] = procedure_;
      request["tools"] = tools_;
    }
    Unwatched watch;
    OneLane lanes;
    return Json::parse(ask::ask(request.dump(), {library_, watch, lanes}).document);
  }
  static inline ask::Library library_;
  static inline std::string document_, network_, procedure_, tools_;
};

class Marlhaven : public Town, public testing::WithParamInterface<std::size_t> {};

double degf(const Json& kelvin) { return (kelvin.get<double>() - 273.15) * 1.8 + 32.0; }

void expect_range(const Json& range, const Json& kelvin, const Json& reply) {
  ASSERT_TRUE(kelvin.is_number()) << reply.dump(1).substr(0, 2000);
  EXPECT_GE(degf(kelvin), range[0].get<double>());
  EXPECT_LE(degf(kelvin), range[1].get<double>());
}

bool holds(const Json& finding, const Json& wanted, const char* key) {
  return finding.at(key).get<std::string>().find(wanted.at(key).get<std::string>()) !=
         std::string::npos;
}

void expect_halt(const Json& wanted, const Json& plan) {
  const bool found = std::ranges::any_of(plan.at("findings"), [&](const Json& finding) {
    return finding.at("grade") == "halt" && finding.at("rule") == wanted.at("rule") &&
           holds(finding, wanted, "says") && holds(finding, wanted, "action");
  });
  EXPECT_TRUE(found) << wanted.dump();
}

TEST_P(Marlhaven, SaysWhatTheScenarioIsFor) {
  const Json scenario = scenarios()[GetParam()];
  SCOPED_TRACE(scenario.at("says").get<std::string>());
  const Json reply = ask_for(scenario.at("request"));
  ASSERT_FALSE(reply.contains("trouble")) << reply.dump(1);
  const Json& expect = scenario.at("expect");
  if (scenario.at("request").at("question") == "flow") {
    EXPECT_EQ(reply.at("outcome"), expect.at("outcome"));
    return expect_range(expect.at("limit_temperature_degf"), reply.at("limit_temperature_k"),
                        reply);
  }
  ASSERT_FALSE(reply.at("plans").empty());
  const Json& best = reply["plans"][0];
  EXPECT_TRUE(best["proof"]["optimal"].get<bool>());
  EXPECT_LE(best["shutoffs"].size(), expect.at("shutoffs_at_most").get<std::size_t>());
  EXPECT_EQ(best["must_not_lose_out"].size(), expect.at("must_not_lose_out").get<std::size_t>());
  for (const Json& shutoff : best["shutoffs"]) {
    if (shutoff["kind"] != "squeeze") continue;
    EXPECT_EQ(shutoff["squeeze"]["verdict"], "nothing_found") << shutoff["says"];
  }
  expect_range(expect.at("limit_temperature_degf"), best.at("limit_temperature_k"), reply);
  for (const Json& halt : expect.value("halts", Json::array())) expect_halt(halt, best);
}

std::string name_of(const testing::TestParamInfo<std::size_t>& scenario) {
  std::string name = scenarios()[scenario.param].at("id");
  std::erase(name, '-');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Recorded, Marlhaven, testing::Range<std::size_t>(0, 5), name_of);

TEST(Scenarios, AreAllTried) { EXPECT_EQ(scenarios().size(), 5u); }

/// The sensing scenario with the East station's tap somewhere else, or nowhere known.
class MovedTap : public Town {
 protected:
  static std::vector<std::string> grades(const Json& pipe, const Json& station,
                                         const char* sensing) {
    Json town = Json::parse(document_);
    Json& regulators = town.at("regulators");
    for (std::size_t r = 0; r < regulators.at("id").size(); ++r) {
      if (regulators["id"][r] != "REG-E") continue;
      regulators["tap_pipe"][r] = pipe;
      regulators["tap_station_m"][r] = station;
      regulators["sensing"][r] = sensing;
    }
    const std::string all = network_;
    network_ = *library_.load("network", town.dump(), "marlhaven");
    const Json reply = ask_for(scenarios()[2].at("request"));
    network_ = all;
    std::vector<std::string> list;
    for (const Json& finding : reply.at("plans").at(0).at("findings")) {
      const std::string rule = finding.at("rule");
      if (rule == "plan.sensing" || rule == "plan.over_maop" || rule == "plan.over_relief")
        list.push_back(finding.at("grade"));
    }
    return list;
  }
};

TEST_F(MovedTap, ClearsTheHaltAndAnUnknownOneIsUndecided) {
  EXPECT_EQ(grades("M-0137", 128.2, "remote").front(), "halt");
  EXPECT_EQ(grades("M-0137", 175.0, "remote"), std::vector<std::string>{}) << "beyond squeeze B";
  EXPECT_EQ(grades(nullptr, nullptr, "unknown"), std::vector<std::string>{"undecided"});
}

}  // namespace
}  // namespace bellhole
