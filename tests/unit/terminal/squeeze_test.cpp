// The replies of the contract corpus as a crew reads them.
#include "tests/unit/terminal/said.hpp"

namespace bellhole::sheets {
namespace {

TEST(SqueezeOnTheTerminal, SaysTheVerdictThenTheNumbersThenTheRest) {
  expect_in_order(text_of("squeeze/ips8_us"),
                  {"UNDECIDED", "IPS 8 DR 11, PE4710, 55.0 psig", "GAP WANTED", "1.098 in", "CLOSE",
                   "3:46", "AT THE LIMIT", "15:00", "OPEN", "30:04", "16 steps with 15 waits",
                   "37.5 %", "no limit set for warmest pipe: decide"});
}

TEST(SqueezeOnTheTerminal, PutsAHaltFirst) {
  expect_in_order(
      text_of("squeeze/dr11_stop_on_dr13_5"),
      {"HALT", "none of the stops fits", "STOP", "none fits", "DR 11, not for this wall"});
}

TEST(SqueezeOnTheTerminal, ShowsWindowsRoundedInward) {
  expect_in_order(text_of("squeeze/ips4_window"),
                  {"PUT IT AT", "49.5 in", "ALLOWED", "46.5 in to 52.5 in"});
}

TEST(SqueezeOnTheTerminal, ShowsTheOtherUnits) {
  expect_in_order(text_of("squeeze/dn125_measured", units::System::metric),
                  {"18.24 mm", "measured wall of 11.40 mm"});
  expect_in_order(text_of("squeeze/ips8_us", units::System::metric), {"27.88 mm", "50.8 mm/min"});
}

TEST(SqueezeOnTheTerminal, SaysWhatCannotBeTold) {
  const std::string text = text_of("squeeze/dn125_no_wall", units::System::metric);
  expect_in_order(text, {"HALT", "GAP WANTED", "not known"});
  EXPECT_EQ(text.find("nan"), std::string::npos);
}

TEST(PaceOnTheTerminal, CountsStrokesAndStepsOfOpening) {
  expect_in_order(text_of("pace/demo_strokes"),
                  {"Nothing found against it", "STOP", "S-8-11", "Closing", "strokes",
                   "each stroke takes", "Opening steps", "wait 1:00", "before"});
  EXPECT_EQ(text_of("pace/metric_open").find("CLOSE "), std::string::npos) << "no speed is set";
}

}  // namespace
}  // namespace bellhole::sheets
