// bellhole-maps as a person runs it: exit codes, and nothing half-written.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "demo/write.hpp"

namespace bellhole::maps {
namespace {

namespace fs = std::filesystem;

class Program : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("bellhole-program-" + std::to_string(::getpid()));
    fs::create_directories(folder_);
    demo::Town town = demo::build_town();
    demo::spoil(town);
    ASSERT_TRUE(demo::write_map(town, path("town.gpkg")));
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_ / name).string();
  }
  [[nodiscard]] std::string text(const std::string& name) const {
    std::stringstream out;
    out << std::ifstream(path(name)).rdbuf();
    return out.str();
  }
  int run(const std::string& arguments) const {
    const std::string command = std::string(BELLHOLE_MAPS) + " " + arguments + " >" + path("said") +
                                " 2>" + path("complained");
    const int status = std::system(command.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  /// The demo's mapping with a change.
  std::string mapping(const std::string& from, const std::string& to) {
    std::stringstream in;
    in << std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/demo/marlhaven.mapping.json").rdbuf();
    std::string all = in.str();
    const auto at = all.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    std::ofstream(path("m.json")) << all.replace(at, from.size(), to);
    return path("m.json");
  }
  fs::path folder_;
};

TEST_F(Program, WritesNetworkAndReportAndAnswersThatPeopleMustLook) {
  EXPECT_EQ(run("import " + path("town.gpkg") + " --mapping " +
                mapping("\"version\": 1", "\"version\": 1") + " --out " + path("n.json") +
                " --report " + path("r.json")),
            1);
  EXPECT_EQ(nlohmann::json::parse(text("n.json"))["document"], "bellhole.network");
  const auto report = nlohmann::json::parse(text("r.json"));
  EXPECT_EQ(report["verdict"], "undecided");
  EXPECT_EQ(report["network_hash"].get<std::string>().size(), 64u);
  EXPECT_NE(text("said").find("undecided import.crossing (2)"), std::string::npos);
  EXPECT_EQ(text("complained"), "");
}

TEST_F(Program, AHaltWritesNoNetworkUnlessItIsLetPass) {
  const std::string strict = mapping("\"snap_tolerance\": \"0.4m\"", "\"snap_tolerance\": \"1mm\"");
  std::string change = text("m.json");
  change.replace(change.find("\"10%\""), 5, "\"0.5%\"");
  std::ofstream(path("m.json")) << change;
  const std::string import =
      "import " + path("town.gpkg") + " --mapping " + strict + " --out " + path("n.json");
  EXPECT_EQ(run(import), 1);
  EXPECT_FALSE(fs::exists(path("n.json")));
  EXPECT_NE(text("complained").find("--accept"), std::string::npos);
  EXPECT_EQ(run(import + " --accept import.many_not_snapping"), 1);
  EXPECT_TRUE(fs::exists(path("n.json")));
}

TEST_F(Program, BadInputIsTwoAndLeavesTheOldFileAlone) {
  std::ofstream(path("n.json")) << "old";
  const std::string out = " --out " + path("n.json");
  EXPECT_EQ(
      run("import /nowhere.gpkg --mapping " + mapping("\"version\": 1", "\"version\": 1") + out),
      2);
  EXPECT_EQ(run("import " + path("town.gpkg") + " --mapping " +
                mapping("\"gas_main\"", "\"gas_mian\"") + out),
            2);
  EXPECT_NE(text("complained").find("layers.mains[0].layer"), std::string::npos)
      << text("complained");
  EXPECT_EQ(run("import " + path("town.gpkg") + " --mapping " +
                mapping("\"60psig\"", "\"60 pounds\"") + out + " --json"),
            2);
  EXPECT_EQ(nlohmann::json::parse(text("said"))["trouble"]["where"], "m.json.tiers[0].maop");
  EXPECT_EQ(run("import " + path("town.gpkg") + out), 2) << "no mapping";
  EXPECT_EQ(run(""), 2);
  EXPECT_EQ(run("--help"), 0);
  EXPECT_EQ(text("n.json"), "old");
  EXPECT_EQ(run("import " + path("town.gpkg") + " --mapping " +
                mapping("\"version\": 1", "\"version\": 1") + " --out /nowhere/n.json"),
            2);
}

TEST_F(Program, ExportsWhatItImported) {
  EXPECT_EQ(run("import " + path("town.gpkg") + " --mapping " +
                mapping("\"version\": 1", "\"version\": 1") + " --out " + path("n.json")),
            1);
  EXPECT_EQ(run("export-network " + path("n.json") + " --out " + path("o.gpkg") + " --mapping " +
                path("o.json")),
            0);
  EXPECT_EQ(run("import " + path("o.gpkg") + " --mapping " + path("o.json") + " --out " +
                path("again.json")),
            1);
  EXPECT_EQ(text("n.json"), text("again.json"));
  EXPECT_EQ(run("export-network " + path("n.json") + " --out " + path("o.shp")), 2);
  EXPECT_EQ(run("export " + path("n.json") + " --out " + path("o.gpkg")), 2)
      << "a network is no plan";
}

}  // namespace
}  // namespace bellhole::maps
