// From the company's pump log to the next sheet: refit, kept in the register, used for a squeeze.
#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "ask/ask.hpp"
#include "store/desk.hpp"

namespace bellhole::store {
namespace {

namespace fs = std::filesystem;
using wire::Json;

Json asked(const Json& request) {
  const ask::Library library;
  Unwatched unwatched;
  OneLane lane;
  return Json::parse(ask::ask(request.dump(), {library, unwatched, lane}).document);
}

Json request_of(const std::string& name) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json";
  return Json::parse(std::ifstream(path)).at("request");
}

double at_stops(const Json& sheet) {
  return sheet.at("force_n").at("at_stops").at("expected").get<double>();
}

TEST(Refit, GoesFromTheLogThroughTheRegisterOntoASheet) {
  std::string folder = (fs::temp_directory_path() / "bellhole-refit-XXXXXX").string();
  ASSERT_NE(::mkdtemp(folder.data()), nullptr);
  {
    auto store = Store::open(folder + "/town.sqlite").value();
    const Json refit = asked(request_of("refit/ten_squeezes"));
    const auto entered =
        enroll_reply(store, "refits", refit.dump(), "refit.json", "2026-11-02T08:00:00Z");
    ASSERT_TRUE(entered) << entered.error().fix;
  }
  auto store = Store::open(folder + "/town.sqlite").value();  // as another day
  const Json refit = register_reply(store, "refits").value().at("entries").at(0);
  const double scale = refit.at("yield_scale").at("expected").get<double>();
  EXPECT_NEAR(scale, 0.821, 0.001);
  Json request = request_of("squeeze/ips8_us");
  request["yield_scale"] = 1.0;
  const Json plain = asked(request);
  request["yield_scale"] = scale;
  const Json sheet = asked(request);
  EXPECT_EQ(sheet.at("source"), "closed_form");
  // The gas's share does not scale, so it is not the scale to the last digit.
  EXPECT_NEAR(at_stops(sheet) / at_stops(plain), scale, 0.02);
  const auto& assumed = sheet.at("assumed");
  EXPECT_TRUE(std::any_of(assumed.begin(), assumed.end(), [](const Json& says) {
    return says.get<std::string>().find("0.82 times the one on record") != std::string::npos;
  })) << assumed.dump();
  fs::remove_all(folder);
}

}  // namespace
}  // namespace bellhole::store
