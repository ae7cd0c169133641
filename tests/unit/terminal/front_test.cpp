// What a controller reads of an emergency: minutes against customers.
#include "tests/unit/terminal/said.hpp"

namespace bellhole::sheets {
namespace {

TEST(FrontOnTheTerminal, SaysMinutesCustomersAndWhatIsLeftLater) {
  const std::string text = text_of("plan/front");
  expect_in_order(
      text,
      {"Minutes until the gas is stopped against customers out", "gas stopped   customers out",
       "25.0 min        21", "shut valve V0 on main M0", "then by 35.0 min",
       "open again: shut valve V0 on main M0; 5 out, 16 fewer", "35.0 min         5",
       "shut the outlet of regulator R1", "no other plan on this map is as fast"});
}

TEST(FrontOnTheTerminal, PlannedWorkHasNone) {
  EXPECT_EQ(text_of("plan/sensing_tap").find("Minutes until"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::sheets
