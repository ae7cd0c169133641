// What a person reads of a relight and of a timeline.
#include "tests/unit/terminal/said.hpp"

namespace bellhole::sheets {
namespace {

TEST(RelightOnTheTerminal, ASwappedMeterHaltsAndIsNamedOnBothSides) {
  expect_in_order(
      text_of("relight/one_meter_swapped"),
      {"HALT", "no gas goes back", "NOT SHUT", "SHUT, NOT AFFECTED", "ALL BACK", "order"});
}

TEST(RelightOnTheTerminal, SaysHowLongTheSectorIsWatched) {
  expect_in_order(text_of("relight/held_and_walked"),
                  {"each of them", "HOLD", "ALL BACK", "Customers do not relight"});
}

TEST(TimelineOnTheTerminal, SaysHowLongThenStepsThenWhoIsOut) {
  expect_in_order(text_of("timeline/planned"),
                  {"gas stopped", "everybody back", "one crew more", "step", "relight",
                   "# the job is as long", "customer", "Gas to the air"});
}

TEST(TimelineOnTheTerminal, AStepWithoutATimeIsMarked) {
  expect_in_order(text_of("timeline/published_values_only"), {"UNDECIDED", "no time set"});
}

}  // namespace
}  // namespace bellhole::sheets
