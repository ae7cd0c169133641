// The demonstration's town and its recorded scenarios, from the map to the answers: each goes on
// saying what makes it worth showing.
#include <gtest/gtest.h>
#include <unistd.h>

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

class Marlhaven : public testing::TestWithParam<std::size_t> {
 protected:
  static void SetUpTestSuite() {
    const fs::path map =
        fs::temp_directory_path() / ("bellhole-marlhaven-" + std::to_string(::getpid()) + ".gpkg");
    demo::Town town = demo::build_town();
    demo::spoil(town);
    ASSERT_TRUE(demo::write_map(town, map.string()));
    const auto imported = maps::import_map(
        {map.string(), std::string(BELLHOLE_SOURCE_DIR) + "/demo/marlhaven.mapping.json", {}});
    fs::remove(map);
    ASSERT_TRUE(imported) << imported.error().where << ": " << imported.error().fix;
    network_ = *library_.load("network", wire::write_network(imported->network), "marlhaven");
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
  static inline std::string network_, procedure_, tools_;
};

double degf(const Json& kelvin) { return (kelvin.get<double>() - 273.15) * 1.8 + 32.0; }

void expect_range(const Json& range, const Json& kelvin, const Json& reply) {
  ASSERT_TRUE(kelvin.is_number()) << reply.dump(1).substr(0, 2000);
  EXPECT_GE(degf(kelvin), range[0].get<double>());
  EXPECT_LE(degf(kelvin), range[1].get<double>());
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
}

std::string name_of(const testing::TestParamInfo<std::size_t>& scenario) {
  std::string name = scenarios()[scenario.param].at("id");
  std::erase(name, '-');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Recorded, Marlhaven, testing::Range<std::size_t>(0, 4), name_of);

TEST(Scenarios, AreAllTried) { EXPECT_EQ(scenarios().size(), 4u); }

}  // namespace
}  // namespace bellhole
