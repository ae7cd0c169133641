// What a crew reads of watch, escape, vent and a judged recording.
#include "tests/unit/terminal/said.hpp"

namespace bellhole::sheets {
namespace {

TEST(WatchOnTheTerminal, SaysTheQuestionThenTheTimes) {
  expect_in_order(text_of("watch/capped_main_one_draw"),
                  {"UNDECIDED", "The question: is this part fed from elsewhere?",
                   "Not to be concluded", "WATCH", "25 min 11 s", "TIME LEFT", "10 h 04 min",
                   "FALL", "4.77 psi/h", "Expect at the gauge", "58.0 psig", "A finer gauge",
                   "The least flow that this gauge shows"});
}

TEST(WatchOnTheTerminal, PutsWhatTheNeedleDidBesideTheTimes) {
  expect_in_order(text_of("watch/capped_main_falls"),
                  {"HALT", "lives off the gas that it holds", "THE NEEDLE", "fell", "3 readings",
                   "LEFT NOW", "9 h 13 min"});
}

TEST(WatchOnTheTerminal, SaysThatThereIsNoTime) {
  expect_in_order(text_of("watch/low_pressure"), {"HALT", "out at once", "TIME LEFT", "none"});
  expect_in_order(text_of("watch/nothing_drawn"), {"HALT", "proves nothing", "WATCH", "no end"});
}

TEST(EscapeOnTheTerminal, ShowsBothEndsTheMostFirstAndNeverADistance) {
  const std::string text = text_of("escape/coefficient_range");
  expect_in_order(text, {"AT THE MOST", "coefficient 1", "AT THE LEAST", "coefficient 0.62",
                         "counted at 14.73 psia", "No distance to keep follows from it"});
  expect_in_order(text_of("escape/in_a_ring", units::System::metric),
                  {"Shut in turn", "nothing shut", "M1@100m", "M1@200m", "not fed any more"});
}

TEST(VentOnTheTerminal, SaysMinutesAndWhereItRests) {
  expect_in_order(text_of("vent/two_inch_stack"),
                  {"VENT", "0 min 54 s", "CHOKED", "RESTS AT", "Expect at the gauge", "55.0 psig",
                   "full of gas"});
}

TEST(RecordingOnTheTerminal, ListsEveryDeviationAndWhatIsNotKnown) {
  expect_in_order(
      text_of("pace/recording_too_fast"),
      {"The recording", "closing", "3.953 in in 82.0 s", "118.6 s", "opening", "474.4 s",
       "Deviations", "closing from 4.500 in", "118.6 s", "opening from 0.547 in", "7 of 7 waits",
       "Not to be known from it", "between two points"});
  expect_in_order(text_of("pace/recording_not_shut"),
                  {"not shut: the pump reached its limit", "NOT on the stops"});
  EXPECT_EQ(text_of("pace/ips8_us").find("The recording"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::sheets
