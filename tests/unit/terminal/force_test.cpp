// What an engineer reads of a squeeze in three dimensions, and a crew of gauge and log.
#include "ask/ask.hpp"
#include "tests/unit/terminal/said.hpp"

namespace bellhole::sheets {
namespace {

TEST(GaugeOnTheTerminal, NamesTheSetAndWhetherTheMapIsInIt) {
  expect_in_order(text_of("gauge/map_contradicted"),
                  {"readings", "cannot tell apart", "DR", "THE PIPE OF THE MAP IS NOT AMONG THEM"});
  EXPECT_EQ(text_of("gauge/thermometer").find("NOT AMONG"), std::string::npos);
}

TEST(RefitOnTheTerminal, SaysOneNumberThenEachSqueeze) {
  expect_in_order(text_of("refit/ten_squeezes"),
                  {"YIELD SCALE 0.82 (0.79 to 0.86", "from 10 squeezes", "log, line 2", "measured",
                   "expected"});
  expect_in_order(text_of("refit/too_few"), {"NO YIELD SCALE"});
}

/// A computed reply, not one to 1e-9: no case of the contract holds it.
TEST(FlattenOnTheTerminal, SaysForcesThenWhatIsHardlySureThenItsOwnAccount) {
  const ask::Library library;
  Unwatched unwatched;
  OneLane lane;
  const auto reply = ask::ask(
      R"({"question": "flatten", "size": "IPS 8", "dr": "11", "material": "PE4710",
          "pipe_temperature": "60degF", "pressure": "55psig", "gap": "1.1in", "bar_radius": "1in",
          "close_in": "4min", "hold": "15min", "open_in": "10min", "friction": 0.25,
          "bricks": "draft", "mesh": true})",
      {library, unwatched, lane});
  ASSERT_EQ(reply.outcome, ask::Outcome::answered) << reply.document;
  const auto json = nlohmann::json::parse(reply.document);
  EXPECT_GT(json.at("energy").at("rubbed_j").get<double>(), 0.0) << "friction does work";
  double at_stops = 0.0, held = 0.0, last_gap = 1.0;
  for (const auto& item : json.at("history")) {
    const double force = item.at("force_n").at("expected").get<double>();
    if (item.at("stage") == "close") {
      at_stops = force;
      EXPECT_LT(item.at("gap_m").get<double>(), last_gap);
      last_gap = item.at("gap_m").get<double>();
    }
    if (item.at("stage") == "hold") held = force;
  }
  EXPECT_GT(at_stops, 2e5);
  EXPECT_LT(held, 0.8 * at_stops) << "it eases";
  EXPECT_EQ(json.at("mesh").at("bricks").size(), json.at("bricks").at("count").get<std::size_t>());
  expect_in_order(
      terminal_text(json, units::System::us),
      {"IPS 8, wall 0.8", "PE4710", "Force of one bar", "close", "hold", "open", "hardly sure",
       "high under the bars, hardly sure", "Of the work of the bars", "rubbed", "bricks (draft)"});
}

}  // namespace
}  // namespace bellhole::sheets
